import { useSignal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import type { ChartState } from '../core/log/state.ts';
import type { Store } from '../store/types.ts';
import { pictureOf } from './pictures.ts';

/** The chart's own first line, drawn once it comes into view; an empty strip of paper until then, or for good. */
export function Picture({ chart, store }: { chart: ChartState; store: Store }) {
  const place = useRef<HTMLSpanElement>(null);
  const source = useSignal<string | null>(null);
  const line = chart.marks?.event;
  useEffect(() => {
    let gone = false;
    let url: string | null = null;
    const watch = new IntersectionObserver((seen) => {
      if (!seen.some((each) => each.isIntersecting)) return;
      watch.disconnect();
      void pictureOf(chart, store).then((blob) => {
        if (gone || !blob) return;
        url = URL.createObjectURL(blob);
        source.value = url;
      });
    });
    if (place.current) watch.observe(place.current);
    return () => {
      gone = true;
      watch.disconnect();
      if (url) URL.revokeObjectURL(url);
    };
  }, [chart.chart, line]);
  return (
    <span class="picture" ref={place}>
      {source.value && <img src={source.value} alt={''} />}
    </span>
  );
}
