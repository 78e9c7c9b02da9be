/** What finding takes, as one module: bundled as it is shipped, not as a runner of TypeScript changes it. */
export { Names } from '../../src/core/find/engraved/index.ts';
export { findOnPage } from '../../src/core/find/page.ts';
export { openInk } from '../../src/pdf/node.ts';
