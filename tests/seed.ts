import fc from 'fast-check';

// One seed for every run, so that a run can be repeated; HOLDFAST_SEED=random looks elsewhere.
const { HOLDFAST_SEED: seed } = process.env;
if (seed !== 'random') fc.configureGlobal({ seed: Number(seed ?? 20_260_101) });
