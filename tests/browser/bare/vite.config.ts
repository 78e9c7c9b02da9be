import { resolve } from 'node:path';
import { pageConfig } from '../../page-config.ts';

const root = import.meta.dirname;

/** The bare viewer, to be laid into a copy of the built extension as bare/index.html. */
export default pageConfig(root, process.env.BARE_OUT ?? resolve(root, '../../../node_modules/.cache/bare'));
