/** A chart's log as it lies in the browser's database, read beside the extension's own code. */

/** The events of a chart by sequence; `page` is any page of the extension. */
export const readLog = async (page, chart) => {
  // As text: Firefox's driver cuts off what lies deep in a value.
  const text = await page.evaluate(
    (key) =>
      new Promise((done, fail) => {
        const opening = indexedDB.open('holdfast');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => {
          const all = opening.result.transaction('events').objectStore('events').getAll();
          all.onerror = () => fail(all.error);
          all.onsuccess = () => {
            opening.result.close();
            done(
              JSON.stringify(all.result.filter((event) => event.chart === key).sort((a, b) => a.seq - b.seq)),
            );
          };
        };
      }),
    chart,
  );
  return JSON.parse(text);
};

/** The settings that are kept. */
export const readSettings = (page) =>
  page.evaluate(
    () =>
      new Promise((done, fail) => {
        const opening = indexedDB.open('holdfast');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => {
          const kept = opening.result.transaction('settings').objectStore('settings').get('settings');
          kept.onerror = () => fail(kept.error);
          kept.onsuccess = () => {
            opening.result.close();
            done(kept.result);
          };
        };
      }),
  );

/** Its passes, as "verdict by judge". */
export const readPasses = async (page, chart) =>
  (await readLog(page, chart))
    .filter(({ type }) => type === 'pass')
    .map(({ kind, verdict, by, brokenBy }) =>
      [...(kind === 'drill' ? [] : [kind]), verdict, 'by', brokenBy ?? by].join(' '),
    );
