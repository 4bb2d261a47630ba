import { uploadSpan } from '../../shared/geometry/span.ts';
import { type ScanUnit, scanUnits } from '../../shared/protocol/http.ts';
import { findUnit, toSi } from '../../shared/units/format.ts';
import type { FileSpan } from './fileSpan.ts';

/** Units as they are said: a sentence with "in in" reads badly. */
export const unitNames: Readonly<Record<ScanUnit, string>> = {
  mm: 'millimetres',
  cm: 'centimetres',
  m: 'metres',
  in: 'inches',
};

const inMetres = (length: number, unit: ScanUnit): number => {
  const row = findUnit('length', unit);
  return row ? toSi(length, row) : Number.NaN;
};

/** Units in which a file of that reach would be taken, the one that makes it most like an engine bay, a metre across, first. */
export function plausibleUnits(span: FileSpan): readonly ScanUnit[] {
  const { least, greatest } = uploadSpan;
  const across = (unit: ScanUnit): number => inMetres(Math.hypot(...span), unit);
  const off = (unit: ScanUnit): number => Math.abs(Math.log(across(unit)));
  return scanUnits
    .filter((unit) => across(unit) >= least && across(unit) <= greatest)
    .toSorted((a, b) => off(a) - off(b));
}

/** The box of a file as it would be in a unit, rounded: only samples of the file were looked at. */
export const spanText = (span: FileSpan, unit: ScanUnit): string =>
  span.map((length) => lengthText(inMetres(length, unit))).join(' x ');

function lengthText(metres: number): string {
  if (metres >= 1) return `${metres.toFixed(2)} m`;
  return `${(1000 * metres).toFixed(metres < 0.01 ? 2 : 0)} mm`;
}
