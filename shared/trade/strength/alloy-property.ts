import { type Known, known, unknown } from '../../units/known.ts';
import { type AlloyKey, type AlloyProperty, alloys } from '../data/alloys.ts';
import { interpolate, type Point, tableRange } from '../interpolation.ts';
import type { Source } from '../source.ts';

/** 0 C: below the first row of a table, down to here, the first row holds (the properties move by a few per cent at most). */
const coldest = 273.15;

/**
 * Property of an alloy (SI: 1/K, Pa, kg/m3) at metal temperature `temperature` (K), interpolated in its table.
 * Below 0 C or above the last row: outside validity, never an extrapolation. Source: {@link alloyPropertySource}.
 */
export function alloyProperty(alloy: AlloyKey, property: AlloyProperty, temperature: number): Known<number> {
  const { rows, unit } = alloys[alloy][property];
  const table = rows.map(([celsius, value]): Point => [celsius + 273.15, value]);
  const [first, last] = tableRange(table);
  const found = temperature >= coldest && temperature <= last ? interpolate(table, Math.max(temperature, first)) : null;
  if (found !== null) return known(found * unit);
  return unknown({
    reason: 'outOfValidity',
    input: `${property} of alloy ${alloy}: temperature`,
    value: temperature,
    range: [coldest, last],
    unit: 'temperature',
  });
}

/** Where the table behind {@link alloyProperty} comes from; its trust is that of the weakest row. */
export function alloyPropertySource(alloy: AlloyKey, property: AlloyProperty): Source {
  return alloys[alloy][property].source;
}
