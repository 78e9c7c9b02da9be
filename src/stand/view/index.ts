export { createView, type ViewOptions } from './view.ts';
export { Veil } from './Veil.tsx';
