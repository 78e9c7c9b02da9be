/** What the player does to the page with wheel and fingers. */
export interface GestureTargets {
  /** Zoom by a factor, around a point of the window in CSS px. */
  zoom(factor: number, clientX: number, clientY: number): void;
  /** The page was moved by hand. */
  moved(): void;
}

/** One notch of a mouse wheel (100 px, as browsers report it) zooms by about a fifth. */
const PER_PIXEL = 0.002;
const PX_PER_LINE = 33;

/** Ctrl or Command with the wheel, a trackpad's pinch (which arrives as the same) and two fingers. */
export function listenGestures(element: HTMLElement, targets: GestureTargets, signal: AbortSignal): void {
  element.addEventListener(
    'wheel',
    (event) => {
      if (!event.ctrlKey && !event.metaKey) {
        targets.moved();
        return;
      }
      event.preventDefault();
      const pixels =
        event.deltaMode === WheelEvent.DOM_DELTA_PIXEL ? event.deltaY : event.deltaY * PX_PER_LINE;
      // A trackpad's pinch comes in small steps, a wheel in large ones; none may leap.
      const step = Math.max(-150, Math.min(150, Math.abs(pixels) < 20 ? pixels * 5 : pixels));
      targets.zoom(Math.exp(-step * PER_PIXEL), event.clientX, event.clientY);
    },
    { passive: false, signal },
  );

  let apart: number | null = null;
  const fingers = (event: TouchEvent) => {
    const [one, two] = event.touches;
    if (!one || !two || event.touches.length !== 2) return null;
    return {
      apart: Math.hypot(two.clientX - one.clientX, two.clientY - one.clientY),
      x: (one.clientX + two.clientX) / 2,
      y: (one.clientY + two.clientY) / 2,
    };
  };
  const start = (event: TouchEvent) => {
    apart = fingers(event)?.apart ?? null;
  };
  element.addEventListener('touchstart', start, { passive: true, signal });
  element.addEventListener('touchend', start, { passive: true, signal });
  element.addEventListener('touchcancel', start, { passive: true, signal });
  element.addEventListener(
    'touchmove',
    (event) => {
      const now = fingers(event);
      if (!now || apart === null) {
        targets.moved();
        return;
      }
      event.preventDefault();
      targets.zoom(now.apart / apart, now.x, now.y);
      apart = now.apart;
    },
    { passive: false, signal },
  );
}
