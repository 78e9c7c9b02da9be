import type { ReadonlySignal } from '@preact/signals';
import type { RefObject } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Plan, Span } from '../../../core/chart/types.ts';
import type { Piece, SetBox, Setting } from '../../../core/drill/setting.ts';
import { t } from '../../../host/i18n.ts';
import type { Look } from '../../view/paper.ts';
import { shareBeats, Strokes } from '../Beats.tsx';
import type { Light } from '../light.ts';
import type { Pictures } from './pictures.ts';

/** A span as it is set large, and which place of the route each of its bars has. */
export interface LargeSpan {
  readonly setting: Setting;
  /** Names plan and span. */
  readonly key: string;
  readonly plan: Plan;
  readonly step: Span;
  readonly placeOf: (bar: number) => number;
}

export interface LargeProps {
  /** What is to be shown; `span` follows as soon as it has been drawn. */
  readonly wanted: ReadonlySignal<LargeSpan | null>;
  readonly span: ReadonlySignal<LargeSpan | null>;
  readonly light: ReadonlySignal<Light | null>;
  readonly pictures: Pictures;
  readonly look: (page: number) => Look;
  readonly scroller: RefObject<HTMLDivElement | null>;
}

/** The span's bars, cut from the page and set large. */
export function Large({ wanted, span, light, pictures, look, scroller }: LargeProps) {
  const now = span.value;
  // The rail makes room before anything is drawn, so that it is drawn once.
  if (!now) return wanted.value && <span class="large-wanted" hidden />;
  const { setting } = now;
  const keepsPaper = setting.lines.some(({ pieces }) => pieces.some(({ page }) => look(page).keepsPaper));
  return (
    <div class="large" ref={scroller} role="group" aria-label={t('drill_large_name')} tabIndex={0}>
      <div
        class={keepsPaper ? 'large-set keeps-paper' : 'large-set'}
        data-scale={setting.scale}
        style={{ '--set-width': `${setting.width}px`, '--set-height': `${setting.height}px` }}
      >
        {setting.lines.map((line, i) => (
          <div key={i} class="large-line" data-bars={line.boxes.map(({ bar }) => bar + 1).join(' ')}>
            {line.pieces.map((piece, j) => (
              <Picture key={j} {...{ piece, setting, pictures, look }} />
            ))}
          </div>
        ))}
        <BeatsHere span={now} light={light} />
      </div>
    </div>
  );
}

interface PictureProps {
  readonly piece: Piece;
  readonly setting: Setting;
  readonly pictures: Pictures;
  readonly look: LargeProps['look'];
}

function Picture({ piece, setting, pictures, look }: PictureProps) {
  const picture = pictures.get(piece, setting);
  const { left, top, width, height } = piece.source;
  const { density } = setting;
  const { day, stage } = look(piece.page);
  const colours = { '--look-day': day, '--look-stage': stage };
  const at = (x: number, wide: number) => ({
    left: `${piece.left + x / density}px`,
    top: `${piece.top}px`,
    width: `${wide / density}px`,
    height: `${height / density}px`,
    ...colours,
  });
  return (
    <>
      <Copied
        of={picture?.canvas}
        size={[width, height]}
        style={at(0, width)}
        source={[piece.page, left, top, width, height].join(' ')}
      />
      {picture?.beside.map((part) => (
        <Copied
          key={part.left}
          of={part.canvas}
          size={[part.canvas.width, height]}
          style={at(part.left, part.canvas.width)}
        />
      ))}
    </>
  );
}

interface CopiedProps {
  readonly of: HTMLCanvasElement | undefined;
  readonly size: readonly [width: number, height: number];
  readonly style: Record<string, string>;
  readonly source?: string;
}

/** A picture, copied: the same one may stand in two settings while one gives way to the other. */
function Copied({ of, size: [width, height], style, source }: CopiedProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const shown = useRef<HTMLCanvasElement | null>(null);
  useLayoutEffect(() => {
    if (!of || !canvas.current || shown.current === of) return;
    canvas.current.width = width;
    canvas.current.height = height;
    canvas.current.getContext('2d')?.drawImage(of, 0, 0);
    shown.current = of;
  }, [of]);
  return <canvas ref={canvas} class="large-piece" data-source={source} style={style} />;
}

/** Reads the light itself, so that a beat redraws the strokes and nothing else. */
function BeatsHere({ span, light }: { span: LargeSpan; light: ReadonlySignal<Light | null> }) {
  const now = light.value;
  if (!now) return null;
  const all = span.setting.lines.flatMap(({ boxes }) => boxes);
  const boxes = all.filter(({ bar }) => bar >= 0 && span.placeOf(bar) === now.place);
  if (boxes.length === 0) return now.landing ? <Landing after={all.at(-1)!} span={span} light={now} /> : null;
  const shares = shareBeats(
    boxes.map(({ placed }) => placed),
    now.beats,
  );
  let first = 0;
  return (
    <div class="large-beats" data-bar={boxes[0]!.bar + 1}>
      {boxes.map((box, i) => {
        const [start, count] = [first, shares[i] ?? 0];
        first += count;
        const { left, width } = box.box;
        return (
          <Strokes
            key={i}
            {...{ count, start, light: now, x0: left, x1: left + width, of: span.setting }}
            {...under(box)}
          />
        );
      })}
    </div>
  );
}

/** Every pass lands on the next bar's first beat: where that bar is not set, its stroke stands behind the last. */
function Landing({ after, span, light }: { after: SetBox; span: LargeSpan; light: Light }) {
  const x0 = after.box.left + after.box.width;
  return (
    <Strokes
      {...{ count: 1, start: 0, light, x0, x1: x0 + after.staff / 2, of: span.setting }}
      {...under(after)}
    />
  );
}

/** Where a box's strokes stand: under all that is shown of it, verses too. */
function under({ staff, reachBottom }: SetBox) {
  const space = staff / 4;
  // The thick stroke is higher than the others by half a space.
  return { top: reachBottom + space / 2, space };
}
