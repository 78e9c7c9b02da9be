/** Rope along a path: its edge, its body, and a highlight where it bends too much for lay marks. */
export function Strand({ d }: { d: string }) {
  return (
    <>
      <path d={d} class="strand-edge" />
      <path d={d} class="strand" />
      <path d={d} class="strand-highlight" />
    </>
  );
}

/** A figure of eight lying across the rope, its first diagonal drawn again on top so that it crosses over. */
const EIGHT = 'M-17 13C-36 13-36-13-17-13C-4-13 4 13 17 13C36 13 36-13 17-13C4-13-4 13-17 13Z';
const OVER = 'M-13-12.4C-2-9 2 9 13 12.4';

/** A knot that holds. */
export function TightKnot() {
  return (
    <>
      <Strand d={EIGHT} />
      <Strand d={OVER} />
    </>
  );
}
