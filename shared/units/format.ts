import { displayUnit, type QuantityKey, quantityRow, type Unit } from './quantities.ts';

/** Finds a unit of a quantity by symbol or other spelling; null when the quantity has none such. */
export function findUnit(quantity: QuantityKey, symbol: string): Unit | null {
  const wanted = symbol.replace(/\s+/g, '');
  const row = quantityRow(quantity);
  const exact = row.units.find((u) => u.symbol === wanted || u.also?.includes(wanted));
  if (exact) return exact;
  const loose = wanted.toLowerCase();
  return (
    row.units.find((u) => u.symbol.toLowerCase() === loose || u.also?.some((a) => a.toLowerCase() === loose)) ?? null
  );
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
