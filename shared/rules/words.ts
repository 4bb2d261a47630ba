import { fieldAt } from '../spec/path.ts';
import { formatDifference, formatSi } from '../units/format.ts';
import type { Why } from '../units/known.ts';
import { isQuantityKey, type QuantityKey } from '../units/quantities.ts';
import type { RuleMeta } from './define.ts';
import type { Judged, Limit, Outcome } from './outcome.ts';
import type { Verdict } from './verdict.ts';

/** Which mark goes beside a verdict. */
export type Mark = 'within' | 'near' | 'outside' | 'caution' | 'unknown' | 'pending' | 'none';

/** A verdict as a person reads it, every number in its display unit; '' where there is nothing to say. */
export interface VerdictWords {
  /** `PASS, spare 3.2 mm`, `FAIL, over by 12.0 MPa`, `NO DATA: needs Runner wall`, `CHECKING`, `N/A`. */
  readonly label: string;
  readonly mark: Mark;
  readonly measured: string;
  /** `at least 6.00 mm`, `at most 0.450`, `50.0 % to 75.0 %`. */
  readonly limit: string;
  /** Distance inside the limit, negative outside. */
  readonly margin: string;
  /** The rule's message with its numbers filled in. */
  readonly message: string;
  /** Why there is no value, or why the rule does not apply. */
  readonly why: string;
  /** `limit set by this job: <reason>; default at most 10 %`. */
  readonly jobLimit: string;
  /** `own material <name>: <source>; used because <reason>`. */
  readonly ownMaterial: string;
}

type Meta = Pick<RuleMeta, 'quantity' | 'messages'>;

/** Puts a verdict into words. Pure: the same on server, screen and paper. */
export function verdictWords(verdict: Told, meta: Meta): VerdictWords {
  return { ...outcomeWords(verdict, meta), jobLimit: overrideWords(verdict, meta), ownMaterial: groundWords(verdict) };
}

type Told = Outcome & Pick<Verdict, 'override' | 'grounds'>;
type OutcomeWords = Omit<VerdictWords, 'jobLimit' | 'ownMaterial'>;

function overrideWords({ override }: Told, { quantity }: Meta): string {
  if (!override) return '';
  return `limit set by this job: ${override.reason}; default ${limitWords(override.was, quantity)}`;
}

function groundWords({ grounds = [] }: Told): string {
  return grounds.map((g) => `own material ${g.name}: ${g.source}; used because: ${g.reason}`).join('. ');
}

function outcomeWords(verdict: Outcome, meta: Meta): OutcomeWords {
  switch (verdict.status) {
    case 'unknown':
      return { ...silent, ...unknownWords(verdict.why) };
    case 'notApplicable':
      return { ...silent, label: 'N/A', mark: 'none', why: verdict.because };
    case 'pass':
      return judgedWords(verdict, meta, {
        label: `${verdict.close ? 'CLOSE' : 'PASS'}, spare ${amount(meta.quantity, verdict.margin)}`,
        mark: verdict.close ? 'near' : 'within',
      });
    case 'caution':
      return judgedWords(verdict, meta, { label: `CAUTION, ${missedBy(verdict, meta)}`, mark: 'caution' });
    case 'fail':
      return judgedWords(verdict, meta, { label: `FAIL, ${missedBy(verdict, meta)}`, mark: 'outside' });
  }
}

const silent = { measured: '', limit: '', margin: '', message: '', why: '' };

function judgedWords(verdict: Judged, meta: Meta, head: Pick<VerdictWords, 'label' | 'mark'>): OutcomeWords {
  return {
    ...head,
    measured: formatSi(meta.quantity, verdict.measured),
    limit: limitWords(verdict.limit, meta.quantity),
    margin: formatDifference(meta.quantity, verdict.margin),
    message: messageWords(verdict, meta),
    why: '',
  };
}

/** A limit as a person reads it. */
export function limitWords(limit: Limit, quantity: QuantityKey): string {
  if (limit.kind === 'range') return `${formatSi(quantity, limit.low)} to ${formatSi(quantity, limit.high)}`;
  return `${limit.kind === 'min' ? 'at least' : 'at most'} ${formatSi(quantity, limit.value)}`;
}

function missedBy({ limit, measured, margin }: Judged, { quantity }: Meta): string {
  const below = limit.kind === 'min' || (limit.kind === 'range' && measured < limit.low);
  return `${below ? 'short by' : 'over by'} ${amount(quantity, margin)}`;
}

/** Size of a margin. One that rounds to nothing is said to be less than the last digit, so that no failure reads `by 0.00 mm`. */
function amount(quantity: QuantityKey, margin: number): string {
  const text = formatDifference(quantity, Math.abs(margin));
  if (margin === 0 || /[1-9]/.test(numberOf(text))) return text;
  const number = numberOf(text);
  const lastDigit = number.includes('.') ? number.replace(/0$/, '1') : '1';
  return `less than ${lastDigit}${text.slice(number.length)}`;
}

const numberOf = (text: string): string => /^[\d.]+/.exec(text)?.[0] ?? text;

/** `{name}` is text, or a number in the rule's quantity; `{name:length}` is a number in that quantity. Unfilled ones stay visible. */
function messageWords(verdict: Judged, meta: Meta): string {
  const template = verdict.message === undefined ? undefined : meta.messages[verdict.message];
  if (template === undefined) return '';
  return template.replace(/\{(\w+)(?::(\w+))?\}/g, (whole, name: string, named: string | undefined) => {
    const value = verdict.data?.[name];
    if (value === undefined) return whole;
    if (typeof value === 'string') return value;
    return formatSi(named !== undefined && isQuantityKey(named) ? named : meta.quantity, value);
  });
}

/** A reason in words, without its label. */
export function whyWords(why: Why): string {
  return unknownWords(why).why;
}

function unknownWords(why: Why): Pick<VerdictWords, 'label' | 'mark' | 'why'> {
  switch (why.reason) {
    case 'pending':
      return { label: 'CHECKING', mark: 'pending', why: 'a measurement is being made' };
    case 'missing': {
      const labels = [...new Set(why.paths.map(fieldLabel))];
      const [first = 'a field'] = labels;
      const more = labels.length > 1 ? ` and ${labels.length - 1} more` : '';
      return { label: `NO DATA: needs ${first}${more}`, mark: 'unknown', why: `needs ${labels.join(', ')}` };
    }
    case 'outOfValidity':
      return { label: 'NO DATA: outside validity', mark: 'unknown', why: outsideWords(why) };
    case 'inconsistent':
      return { label: 'NO DATA: inputs disagree', mark: 'unknown', why: why.detail };
    case 'fault':
      return { label: 'NO DATA: rule fault', mark: 'unknown', why: why.detail };
  }
}

function fieldLabel(path: string): string {
  return fieldAt(path)?.label ?? path;
}

function outsideWords(why: Extract<Why, { reason: 'outOfValidity' }>): string {
  const show = (value: number) => (isQuantityKey(why.unit) ? formatSi(why.unit, value) : `${value} ${why.unit}`);
  return `${why.input}: expected ${show(why.range[0])} to ${show(why.range[1])}, got ${show(why.value)}`;
}
