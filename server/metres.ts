import type { ScanUnit } from '../shared/protocol/http.ts';
import { findUnit, toSi } from '../shared/units/format.ts';

/** Metres in one unit of a scan file. */
export function metresPer(unit: ScanUnit): number {
  const row = findUnit('length', unit);
  if (!row) throw new Error(`the quantities table has no length unit ${unit}`);
  return toSi(1, row);
}
