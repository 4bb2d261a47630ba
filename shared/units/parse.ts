import { findUnit, toSi } from './format.ts';
import { displayUnit, type QuantityKey, quantityRow } from './quantities.ts';

/** What a typed text came to. `unit` is the symbol it was read in; `bare` says that the text named none, so the display unit was taken. */
export type Parsed =
  | { readonly ok: true; readonly si: number; readonly unit: string; readonly bare: boolean }
  | { readonly ok: false; readonly error: string };

const NUMBER = String.raw`[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][+-]?\d+)?`;
const MIXED = /^([+-]?)(\d+)(?:\s+|-)(\d+)\/(\d+)\s*(.*)$/;
const FRACTION = /^([+-]?\d+)\/(\d+)\s*(.*)$/;
const PLAIN = new RegExp(String.raw`^(${NUMBER})\s*(.*)$`);
/** `1,234` is 1.234 to one reader and 1234 to another. `0,234`, `1234,567` and `1,23` cannot be thousands, so they are decimals. */
const TWO_WAYS = /^[+-]?([1-9]\d{0,2}),(\d{3})(?!\d)/;

/** Signs that people's keyboards and other programs put in place of the plain ones, by what they stand for. */
const LOOKALIKES: readonly (readonly [RegExp, string])[] = [
  [/[\u2010-\u2013\u2212]/g, '-'],
  [/[\u2044\u2215]/g, '/'],
  [/[\u00ba\u02da]/g, '°'],
  [/[\u2018\u2019\u2032]/g, "'"],
  [/[\u201c\u201d\u2033]|''/g, '"'],
];

function plainSigns(text: string): string {
  return LOOKALIKES.reduce((out, [from, to]) => out.replace(from, to), text.trim());
}

type Split =
  | { readonly ok: true; readonly value: number; readonly rest: string }
  | { readonly ok: false; readonly error: string };

const bad = (error: string): { readonly ok: false; readonly error: string } => ({ ok: false, error });

/** As much of a wrong text as an error repeats. */
const clip = (text: string): string => text.slice(0, 60);

function splitMixed([, sign, whole, top, bottom, rest]: readonly (string | undefined)[]): Split {
  const part = Number(top) / Number(bottom);
  if (!(part < 1))
    return bad(`expected a fraction below one after the whole number, got "${clip(`${top}/${bottom}`)}"`);
  const size = Number(whole) + part;
  return { ok: true, value: sign === '-' ? -size : size, rest: rest ?? '' };
}

/** Splits a text into its number and the rest; null when it does not begin with a number. */
function split(text: string): Split | null {
  const mixed = MIXED.exec(text);
  if (mixed) return splitMixed(mixed);
  const fraction = FRACTION.exec(text);
  if (fraction) return { ok: true, value: Number(fraction[1]) / Number(fraction[2]), rest: fraction[3] ?? '' };
  const plain = PLAIN.exec(text);
  const [, number = '', rest = ''] = plain ?? [];
  if (!plain) return null;
  const twoWays = TWO_WAYS.exec(number);
  // With a second mark (`1,234.5`) the rest is no unit, and is refused as such.
  if (twoWays && !/^[.,]/.test(rest)) {
    const [, before, after] = twoWays;
    return bad(`"${clip(number)}" can be read in two ways: expected ${before}.${after} or ${before}${after}`);
  }
  const value = Number(number.replace(',', '.'));
  if (value === 0 && /^[^eE]*[1-9]/.test(number))
    return bad(`expected a number that is not lost as zero, got "${clip(text)}"`);
  return { ok: true, value, rest };
}

/** The units of a quantity as a person reads them, for error texts. */
export function unitList(quantity: QuantityKey): string {
  return quantityRow(quantity)
    .units.map((u) => (u.symbol === '1' ? 'no unit' : u.symbol))
    .join(', ');
}

/**
 * Reads a typed quantity such as `44,45 mm`, `1-5/8"`, `1500 F`, `.065in`. A number without unit is taken in the display unit.
 * The decimal mark is a point or a comma. Never guesses: an unknown unit, a comma that may be a thousands mark (`1,234`), two marks
 * (`1.234,5`), digit groups (`1 234`) and trailing text are errors that say what was expected and what came.
 */
export function parseQuantity(quantity: QuantityKey, text: string): Parsed {
  const came = clip(text.trim());
  const shown = displayUnit(quantity);
  const { name } = quantityRow(quantity);
  const example = shown.symbol === '1' ? '1.5' : `12.5 ${shown.symbol}`;
  if (came === '') return bad(`expected a ${name} such as ${example}, got nothing`);
  const parts = split(plainSigns(text));
  if (!parts) return bad(`expected a number such as ${example}, got "${came}"`);
  if (!parts.ok) return parts;
  const symbol = parts.rest.trim();
  const bare = symbol === '';
  // The unit of a bare number is not typed: in `5 1` the 1 is a digit astray.
  const unit = bare ? shown : symbol === '1' ? null : findUnit(quantity, symbol);
  if (!unit) return bad(`expected a ${name} in ${unitList(quantity)}, got "${clip(symbol)}"`);
  const si = toSi(parts.value, unit);
  if (!Number.isFinite(si)) return bad(`expected a finite ${name}, got "${came}"`);
  if (si === 0 && parts.value !== 0 && !unit.offset)
    return bad(`expected a ${name} that is not lost as zero, got "${came}"`);
  return { ok: true, si: si === 0 ? 0 : si, unit: unit.symbol, bare };
}
