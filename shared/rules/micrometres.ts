import { findUnit, formatSi } from '../units/format.ts';

const micrometre = findUnit('length', 'um') ?? undefined;

/** A length (m) as text in micrometres, `58.0 um`: for messages about fits and gauges, which millimetres round away. */
export function inMicrometres(length: number): string {
  return formatSi('length', length, micrometre);
}
