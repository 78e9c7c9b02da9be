/** A chart's log as it lies in the browser's database, read beside the extension's own code. */

/** What lies in the store `name` under `key`, or all of it; null: nothing. */
const read = async (page, name, key = null) =>
  // As text: Firefox's driver cuts off what lies deep in a value.
  JSON.parse(
    await page.evaluate(
      (wanted) =>
        new Promise((done, fail) => {
          const opening = indexedDB.open('holdfast');
          opening.onerror = () => fail(opening.error);
          opening.onsuccess = () => {
            const store = opening.result.transaction(wanted.name).objectStore(wanted.name);
            const asked = wanted.key === null ? store.getAll() : store.get(wanted.key);
            asked.onerror = () => fail(asked.error);
            asked.onsuccess = () => {
              opening.result.close();
              done(JSON.stringify(asked.result ?? null));
            };
          };
        }),
      { name, key },
    ),
  );

/** The events of a chart by sequence; `page` is any page of the extension. */
export const readLog = async (page, chart) =>
  (await read(page, 'events')).filter((event) => event.chart === chart).sort((a, b) => a.seq - b.seq);

/** The settings that are kept; null where none are. */
export const readSettings = (page) => read(page, 'settings', 'settings');

/** Its passes, as "verdict by judge". */
export const readPasses = async (page, chart) =>
  (await readLog(page, chart))
    .filter(({ type }) => type === 'pass')
    .map(({ kind, verdict, by, brokenBy }) =>
      [...(kind === 'drill' ? [] : [kind]), verdict, 'by', brokenBy ?? by].join(' '),
    );
