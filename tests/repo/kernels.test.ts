import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, it } from 'vitest';
// @ts-expect-error -- plain JavaScript
import * as made from '../../src/cli/kernels.mjs';

const { builtKernels } = made as { builtKernels: () => Promise<string> };

it('keeps the kernels as they are compiled from their source: `npm run kernels`', async () => {
  const kept = readFileSync(resolve(import.meta.dirname, '../../src/core/find/kernels/built.json'), 'utf8');
  expect(await builtKernels()).toBe(kept);
});
