/** What the bench does on the tunes page, by hand of a script: plain, since it is handed to the page as text. */
globalThis.list = {
  /** Runs after the next frame has been laid out and painted; resolves to the time, ms. */
  painted: () =>
    new Promise((done) => {
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => done(performance.now());
        port2.postMessage(null);
      });
    }),

  /** Types each text letter by letter; resolves to the times from a letter to the frame that shows what it finds. */
  async search(texts) {
    const field = document.querySelector('input[type="search"]');
    const put = (text) => {
      field.value = text;
      field.dispatchEvent(new InputEvent('input', { bubbles: true }));
    };
    const taken = [];
    for (const text of texts)
      for (let length = 1; length <= text.length; length++) {
        await this.painted();
        const before = performance.now();
        put(text.slice(0, length));
        // What a key changes is drawn in a task of its own.
        await new Promise((next) => setTimeout(next));
        taken.push((await this.painted()) - before);
      }
    put('');
    return taken;
  },

  /** Scrolls down and up again, one turn a frame; resolves to how long the page worked for each, ms. */
  async scroll(turns, px) {
    const taken = [];
    let by = px;
    for (let turn = 0; turn < turns; turn++) {
      await new Promise((next) => requestAnimationFrame(next));
      const before = performance.now();
      const at = scrollY;
      scrollBy(0, by);
      if (scrollY === at) by = -by;
      dispatchEvent(new Event('scroll'));
      await new Promise((next) => setTimeout(next));
      // Has it laid out now, within the time that is taken.
      document.body.getBoundingClientRect();
      taken.push(performance.now() - before);
    }
    return taken;
  },
};
