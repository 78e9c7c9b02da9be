import type { ComponentChildren } from 'preact';
import { useEffect, useId, useState } from 'preact/hooks';
import { t } from '../../host/i18n.ts';

interface Range {
  readonly min: number;
  readonly max: number;
}

interface NumberFieldProps extends Range {
  readonly label: string;
  readonly value: number;
  readonly onChange: (value: number) => void;
  /** Only the label for screen readers: the sentence around the field says it. */
  readonly inSentence?: boolean;
}

/** The whole number that a text gives within a range, or null. */
function wholeNumber(text: string, { min, max }: Range): number | null {
  const value = Number(text);
  return text.trim() !== '' && Number.isInteger(value) && value >= min && value <= max ? value : null;
}

/** A whole number with its limits. Anything else stays in the field, says what fits, and changes nothing. */
export function NumberField({ label, value, min, max, onChange, inSentence = false }: NumberFieldProps) {
  const [text, setText] = useState(String(value));
  const [wrong, setWrong] = useState(false);
  const id = useId();
  useEffect(() => {
    setText(String(value));
    setWrong(false);
  }, [value]);
  const take = (typed: string) => {
    setText(typed);
    const number = wholeNumber(typed, { min, max });
    setWrong(number === null);
    if (number !== null && number !== value) onChange(number);
  };
  return (
    <span class="plan-field">
      <label for={id} class={inSentence ? 'unseen' : undefined}>
        {label}
      </label>
      <input
        id={id}
        type="number"
        inputMode="numeric"
        min={min}
        max={max}
        value={text}
        aria-invalid={wrong}
        aria-describedby={wrong ? `${id}-wrong` : undefined}
        onChange={(event) => take(event.currentTarget.value)}
      />
      {wrong && (
        <span id={`${id}-wrong`} class="plan-wrong" role="alert">
          {t('plan_number_wrong', min, max)}
        </span>
      )}
    </span>
  );
}

/** A number that can be left out: a tick turns it on with `otherwise`. */
export function OptionalNumber(
  props: Range & {
    readonly label: string;
    readonly value: number | null;
    readonly otherwise: number;
    readonly onChange: (value: number | null) => void;
  },
) {
  const { label, value, otherwise, min, max, onChange } = props;
  return (
    <Row>
      <Tick label={label} checked={value !== null} onChange={(on) => onChange(on ? otherwise : null)} />
      {value !== null && (
        <NumberField inSentence label={label} value={value} min={min} max={max} onChange={onChange} />
      )}
    </Row>
  );
}

/** Something that is on or off, with a line on what it does. */
export function Tick(props: {
  readonly label: string;
  readonly checked: boolean;
  readonly onChange: (on: boolean) => void;
}) {
  return (
    <label class="plan-tick">
      <input
        type="checkbox"
        checked={props.checked}
        onChange={(event) => props.onChange(event.currentTarget.checked)}
      />
      <span>{props.label}</span>
    </label>
  );
}

/** One line of the panel: what it is at the left, its value at the right. */
export function Row({ children }: { readonly children: ComponentChildren }) {
  return <div class="plan-row">{children}</div>;
}
