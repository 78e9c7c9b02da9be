import type { Bar } from '../../core/chart/types.ts';
import { t } from '../../host/i18n.ts';
import { JUMPS } from './words.ts';

interface SignsProps {
  readonly bar: Bar;
  /** Its neighbours on the line. */
  readonly before: Bar | undefined;
  readonly after: Bar | undefined;
  /** Where the staff begins, fraction of the page's width. */
  readonly start: number;
}

/** Stand before the bar line, over the end of the bar before. */
const badgesOf = ({ section, meter, segno, coda }: Bar): boolean =>
  section !== undefined || Boolean(meter || segno || coda);

/** Widths in em: a letter, the least and the rim of a badge, a segno or coda, a meter, the gap between two. */
const [LETTER, LEAST, RIM, SIGN, METER, GAP] = [0.7, 2, 1.2, 1.5, 2.6, 0.4];

/** For marks.css: the margin before the staff and how far the bar begins behind that, and how wide its badges are. */
function marginOf({ x0, x1, section, segno, coda, meter }: Bar, start: number) {
  const widths = [
    ...(section === undefined ? [] : [Math.max(LEAST, RIM + LETTER * section.length)]),
    ...(segno ? [SIGN] : []),
    ...(coda ? [SIGN] : []),
    ...(meter ? [METER] : []),
  ];
  // What is said of a bar stands in a container as wide as the bar.
  const ofBar = (width: number) => `${(100 * width) / (x1 - x0)}cqi`;
  const wide = widths.reduce((sum, width) => sum + width + GAP, -GAP);
  return { '--margin': ofBar(start), '--behind': ofBar(x0 - start), '--wide': wide };
}

/** What is said of a bar, drawn on it as on a chart: section, ending, repeat signs, jumps, a tie. All by our own pen. */
export function Signs({ bar, before, after, start }: SignsProps) {
  const hasBadges = badgesOf(bar);
  const ending = bar.ending?.join(', ');
  // One bracket over all of its bars.
  const goesOn = ending !== undefined && ending === before?.ending?.join(', ');
  return (
    <>
      {hasBadges && (
        <span
          class={before ? 'marks-badges' : 'marks-badges leading'}
          style={before ? undefined : marginOf(bar, start)}
        >
          {bar.section !== undefined && (
            <b class={bar.when ? 'marks-badge sometimes' : 'marks-badge'}>{bar.section}</b>
          )}
          {bar.segno && <Segno />}
          {bar.coda && <Coda />}
          {bar.meter && <span class="marks-meter">{t('marks_meter', bar.meter.beats, bar.meter.value)}</span>}
        </span>
      )}
      {(bar.toCoda || bar.fine || bar.jump) && (
        <span class={after && badgesOf(after) ? 'marks-leads beside' : 'marks-leads'}>
          {bar.toCoda && (
            <span>
              {t('marks_to')} <Coda />
            </span>
          )}
          {bar.fine && <span>{t('marks_cmd_fine')}</span>}
          {bar.jump && <span>{t(JUMPS[bar.jump])}</span>}
        </span>
      )}
      {ending !== undefined && (
        <span class={goesOn ? 'marks-ending on' : 'marks-ending'}>{!goesOn && <b>{ending}</b>}</span>
      )}
      {bar.repeatStart && <Repeat side="start" />}
      {bar.repeatEnd !== undefined && <Repeat side="end" times={bar.repeatEnd} />}
      {bar.restBars !== undefined && <span class="marks-rest">{bar.restBars}</span>}
      {bar.tied && (
        <svg class="marks-tie" viewBox="0 0 30 8">
          <path d="M1 1Q15 10 29 1" />
        </svg>
      )}
    </>
  );
}

/** An S crossed by a stroke, with a dot on either side. */
function Segno() {
  return (
    <svg class="marks-sign" viewBox="0 0 24 28">
      <path d="M17.5 7.5C17.5 4 14.5 2.5 12 2.5 9 2.5 6.5 4.4 6.5 7.4 6.5 13 17.5 14.5 17.5 20.4 17.5 23.6 15 25.5 12 25.5 9.5 25.5 6.5 24 6.5 20.5" />
      <path d="M19.5 4.5 4.5 23.5" />
      <circle cx="4.6" cy="14" r="1.7" />
      <circle cx="19.4" cy="14" r="1.7" />
    </svg>
  );
}

/** A ring crossed by two strokes. */
function Coda() {
  return (
    <svg class="marks-sign" viewBox="0 0 24 28">
      <ellipse cx="12" cy="14" rx="6.5" ry="8.5" />
      <path d="M12 2V26M2 14H22" />
    </svg>
  );
}

function Repeat({ side, times = 2 }: { readonly side: 'start' | 'end'; readonly times?: number }) {
  return (
    <span class={`marks-repeat ${side}`}>
      <svg viewBox="0 0 14 40" preserveAspectRatio="none">
        <path d="M2 0V40" stroke-width="3.4" />
        <path d="M6.5 0V40" stroke-width="1.2" />
      </svg>
      <i />
      <i />
      {times > 2 && <b>{t('marks_times', times)}</b>}
    </span>
  );
}
