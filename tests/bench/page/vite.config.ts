import { resolve } from 'node:path';
import { pageConfig } from '../../page-config.ts';

const root = import.meta.dirname;

/** The bench's page, to be laid into a copy of the built extension as bench/index.html. */
export default pageConfig(root, process.env.BENCH_OUT ?? resolve(root, '../../../node_modules/.cache/bench'));
