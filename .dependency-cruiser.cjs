/** The arrows of the house: which folder of src may import which. */
const may = {
  core: [],
  pdf: ['core'],
  host: ['core'],
  store: ['core'],
  sound: ['core'],
  ui: ['core', 'host'],
  background: ['core', 'host', 'store'],
  tunes: ['core', 'pdf', 'host', 'store', 'ui'],
  stand: ['core', 'pdf', 'host', 'store', 'ui', 'sound'],
  cli: ['core', 'pdf', 'sound'],
};
const pure = ['valibot', 'fflate', 'ts-fsrs', 'pitchy'];

module.exports = {
  forbidden: [
    ...Object.entries(may).map(([room, others]) => ({
      name: `${room}-imports`,
      comment: `src/${room} may import ${others.join(', ') || 'nothing but itself'}.`,
      severity: 'error',
      from: { path: `^src/${room}/` },
      to: { path: '^src/', pathNot: `^src/(${[room, ...others].join('|')}|_locales)/` },
    })),
    {
      name: 'core-is-pure',
      comment: 'core imports only a few named pure packages.',
      severity: 'error',
      from: { path: '^src/core/' },
      to: {
        dependencyTypes: ['npm', 'npm-dev', 'core', 'unknown'],
        pathNot: `(^|/)node_modules/(${pure.join('|')})/|^(${pure.join('|')})$`,
      },
    },
    {
      name: 'one-door-to-pdfjs',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/pdf/' },
      to: { path: 'pdfjs-dist' },
    },
    {
      name: 'one-door-to-the-browser',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/host/' },
      to: { path: 'webextension-polyfill' },
    },
    {
      name: 'one-door-to-indexeddb',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/store/' },
      to: { path: 'node_modules/idb/' },
    },
    {
      name: 'no-circles',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    doNotFollow: { path: 'node_modules' },
  },
};
