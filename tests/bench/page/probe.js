/**
 * Laid under the stand before its own code runs: notes every click with the time at which the browser says it
 * is heard, every change of the lit beat, every verdict key until it is shown; and times a bare put.
 */
{
  const probe = { clicks: [], lit: [], verdicts: [], bare: [], frames: [], source: null, latency: 0 };
  globalThis.probe = probe;
  const now = () => performance.now();

  const { start } = AudioBufferSourceNode.prototype;
  const { stop } = AudioScheduledSourceNode.prototype;
  const pending = new Set();
  AudioBufferSourceNode.prototype.start = function (when, ...rest) {
    const click = { at: when, context: this.context };
    this.probed = click;
    pending.add(click);
    return start.call(this, when, ...rest);
  };
  AudioScheduledSourceNode.prototype.stop = function (...rest) {
    pending.delete(this.probed);
    return stop.apply(this, rest);
  };

  /** Second of the audio clock that is heard, and the ms of the page at which it is. */
  function output(context) {
    const { contextTime, performanceTime } = context.getOutputTimestamp();
    if (contextTime > 0 && performanceTime > 0) {
      probe.source = 'getOutputTimestamp';
      return { second: contextTime, ms: performanceTime };
    }
    probe.source = 'currentTime less outputLatency';
    return { second: context.currentTime - (context.outputLatency || context.baseLatency), ms: now() };
  }
  const frame = () => {
    probe.frames.push(now());
    for (const click of pending) {
      const { second, ms } = output(click.context);
      if (second < click.at) continue;
      pending.delete(click);
      probe.latency = click.context.outputLatency;
      probe.clicks.push(ms + (click.at - second) * 1000);
    }
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);

  let lit = '';
  let tight = null;
  let asked = null;
  const look = () => {
    const strokes = [...document.querySelectorAll('[data-beat="now"], [data-beat="landing"]')];
    const seen = strokes.map((stroke) => stroke.dataset.beat + stroke.style.left + stroke.style.top).join();
    if (seen !== lit) {
      lit = seen;
      if (seen) probe.lit.push(now());
    }
    const knots = document.querySelector('[data-tight]')?.dataset.tight ?? null;
    if (knots === tight) return;
    tight = knots;
    const from = asked;
    asked = null;
    if (from !== null) requestAnimationFrame(() => probe.verdicts.push(now() - from));
  };
  new MutationObserver(look).observe(document, {
    subtree: true,
    childList: true,
    attributes: true,
    attributeFilter: ['data-beat', 'data-tight', 'style'],
  });

  const request = (asked_) =>
    new Promise((done, failed) => {
      asked_.onsuccess = () => done(asked_.result);
      asked_.onerror = () => failed(asked_.error);
    });
  let puts = null;
  let value = null;
  const text = document.createTextNode('');

  /** Makes the bare put as large as what the chart's last verdict wrote: its event and its snapshot. */
  probe.prepare = async (chart) => {
    const own = await request(indexedDB.open('holdfast'));
    const tx = own.transaction(['events', 'snapshots']);
    const all = IDBKeyRange.bound([chart], [chart, []]);
    const [events, snapshot] = await Promise.all([
      request(tx.objectStore('events').index('chart').getAll(all)),
      request(tx.objectStore('snapshots').get(chart)),
    ]);
    own.close();
    value = { event: events.at(-1), snapshot };
    if (!puts) {
      const opening = indexedDB.open('bench');
      opening.onupgradeneeded = () => opening.result.createObjectStore('puts');
      puts = await request(opening);
      const line = document.createElement('p');
      line.style.cssText = 'position:fixed;left:0;bottom:0;margin:0';
      line.append(text);
      document.body.append(line);
    }
    return {
      vouched: events.filter(({ type }) => type === 'vouched').length,
      bytes: JSON.stringify(value).length,
    };
  };
  function bare(from) {
    const tx = puts.transaction('puts', 'readwrite', { durability: 'strict' });
    tx.objectStore('puts').put(value, crypto.randomUUID());
    tx.oncomplete = () => {
      text.data = String(probe.bare.length);
      requestAnimationFrame(() => probe.bare.push(now() - from));
    };
  }
  addEventListener(
    'keydown',
    ({ code, timeStamp }) => {
      if (code === 'KeyC' || code === 'KeyS') asked = timeStamp;
      if (code === 'F9') bare(timeStamp);
    },
    true,
  );
}
