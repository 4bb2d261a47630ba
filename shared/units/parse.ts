import { findUnit, toSi } from './format.ts';
import { displayUnit, type QuantityKey, quantityRow } from './quantities.ts';

/** What a typed text came to. */
export type Parsed =
  | { readonly ok: true; readonly si: number; readonly unit: string }
  | { readonly ok: false; readonly error: string };

const NUMBER = String.raw`[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][+-]?\d+)?`;
const MIXED = /^([+-]?\d+)(?:\s+|-)(\d+)\/(\d+)\s*(.*)$/;
const FRACTION = /^([+-]?\d+)\/(\d+)\s*(.*)$/;
const PLAIN = new RegExp(String.raw`^(${NUMBER})\s*(.*)$`);

/** Splits a text into its number and the rest; a comma counts as the decimal mark, inch fractions `1 5/8` and `1-5/8` are read exactly. */
function split(text: string): { value: number; rest: string } | null {
  const mixed = MIXED.exec(text);
  if (mixed) {
    const whole = Number(mixed[1]);
    const part = Number(mixed[2]) / Number(mixed[3]);
    return { value: whole < 0 || mixed[1]?.startsWith('-') ? whole - part : whole + part, rest: mixed[4] ?? '' };
  }
  const fraction = FRACTION.exec(text);
  if (fraction && !/^s\b/.test(fraction[3] ?? ''))
    return { value: Number(fraction[1]) / Number(fraction[2]), rest: fraction[3] ?? '' };
  const plain = PLAIN.exec(text);
  if (!plain) return null;
  return { value: Number((plain[1] ?? '').replace(',', '.')), rest: plain[2] ?? '' };
}

/** The units of a quantity as a person reads them, for error texts. */
export function unitList(quantity: QuantityKey): string {
  return quantityRow(quantity)
    .units.map((u) => (u.symbol === '1' ? 'no unit' : u.symbol))
    .join(', ');
}

/**
 * Reads a typed quantity such as `44,45 mm`, `1-5/8"`, `1500 F`, `.065in`. A number without unit is taken in the display unit.
 * Never guesses: an unknown unit, a doubtful thousands mark (`1,234,5`) or trailing text is an error that says what was expected.
 */
export function parseQuantity(quantity: QuantityKey, text: string): Parsed {
  const trimmed = text.trim();
  const example = `${displayUnit(quantity).symbol === '1' ? '1.5' : `12.5 ${displayUnit(quantity).symbol}`}`;
  if (trimmed === '')
    return { ok: false, error: `expected a ${quantityRow(quantity).name} such as ${example}, got nothing` };
  const parts = split(trimmed);
  if (!parts) return { ok: false, error: `expected a number such as ${example}, got "${trimmed}"` };
  if (!Number.isFinite(parts.value)) return { ok: false, error: `expected a finite number, got "${trimmed}"` };
  const symbol = parts.rest.trim();
  const unit = symbol === '' ? displayUnit(quantity) : findUnit(quantity, symbol);
  if (!unit)
    return { ok: false, error: `expected a ${quantityRow(quantity).name} in ${unitList(quantity)}, got "${symbol}"` };
  const value = toSi(parts.value, unit);
  if (!Number.isFinite(value))
    return { ok: false, error: `expected a finite ${quantityRow(quantity).name}, got "${trimmed}"` };
  return { ok: true, si: value, unit: unit.symbol };
}
