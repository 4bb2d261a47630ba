import { displayUnit, type QuantityKey, quantityRow, type Unit } from './quantities.ts';

/** Prefix m (milli) and M (mega) differ by a factor of a thousand million: in mixed case their case has to be right. */
function wrongPrefix(typed: string, spelling: string): boolean {
  const mixed = typed !== typed.toLowerCase() && typed !== typed.toUpperCase();
  return mixed && typed[0] !== spelling[0] && /^m(m|l|pa)/i.test(spelling);
}

function spellings(unit: Unit): readonly string[] {
  return [unit.symbol, ...(unit.also ?? [])];
}

/**
 * Finds a unit of a quantity by symbol or other spelling; null when the quantity has none such. Capitals need not match, but `mPa` is
 * no MPa and `Mm` no mm. Spaces may stand around a sign (`L / min`), not inside a symbol (`m m`).
 */
export function findUnit(quantity: QuantityKey, symbol: string): Unit | null {
  const typed = symbol
    .trim()
    .replace(/\s+/g, ' ')
    .replace(/ ?([/.·°-]) ?/g, '$1');
  const { units } = quantityRow(quantity);
  const exact = units.find((u) => spellings(u).includes(typed));
  if (exact) return exact;
  const loose = typed.toLowerCase();
  const matches = (s: string): boolean => s.toLowerCase() === loose && !wrongPrefix(typed, s);
  return units.find((u) => spellings(u).some(matches)) ?? null;
}

/** SI value to the number shown in `unit`. */
export function fromSi(value: number, unit: Unit): number {
  return (value - (unit.offset ?? 0)) / unit.factor;
}

/** Number in `unit` to SI. */
export function toSi(value: number, unit: Unit): number {
  return value * unit.factor + (unit.offset ?? 0);
}

/** Number alone, in the display unit, with that unit's decimals. */
export function formatNumber(quantity: QuantityKey, value: number, unit: Unit = displayUnit(quantity)): string {
  const shown = fromSi(value, unit);
  if (!Number.isFinite(shown)) return String(shown);
  const text = shown.toFixed(unit.decimals);
  return /^-0(\.0*)?$/.test(text) ? text.slice(1) : text;
}

/** Number and unit, e.g. `44.45 mm`; a bare ratio or count has no unit after it. */
export function formatSi(quantity: QuantityKey, value: number, unit: Unit = displayUnit(quantity)): string {
  const number = formatNumber(quantity, value, unit);
  return unit.symbol === '1' ? number : `${number} ${unit.symbol}`;
}

/** A difference of two SI values: offsets (degrees C, F) do not apply. */
export function formatDifference(quantity: QuantityKey, value: number): string {
  const unit = displayUnit(quantity);
  return formatSi(quantity, value, { ...unit, offset: 0 });
}
