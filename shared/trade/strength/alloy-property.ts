import { type Known, known, unknown } from '../../units/known.ts';
import { type AlloyKey, type AlloyProperty, alloys } from '../data/alloys.ts';
import { type MaterialKey, type MaterialProperty, materialKeys, materials } from '../data/materials.ts';
import { interpolate, type Point, tableRange } from '../interpolation.ts';
import type { Source } from '../source.ts';

/** 0 C: below the first row of a table, down to here, the first row holds (the properties move by a few per cent at most). */
const coldest = 273.15;
/** A table that starts hotter than this says nothing about the cold metal. */
const coldStart = 403.15;

/**
 * Property of a metal (SI: 1/K, Pa, kg/m3, W/(m.K), J/(kg.K)) at metal temperature `temperature` (K), interpolated in its table.
 * Below 0 C or above the last row: outside validity, never an extrapolation; no table at all: inconsistent.
 * Source: {@link alloyPropertySource}, {@link materialPropertySource}.
 */
export function alloyProperty(alloy: MaterialKey, property: MaterialProperty, temperature: number): Known<number> {
  const found = materials[alloy][property];
  if (!found) return noTable(alloy, property);
  const { rows, unit } = found;
  const table = rows.map(([celsius, value]): Point => [celsius + 273.15, value]);
  const [first, last] = tableRange(table);
  const lowest = first <= coldStart ? coldest : first;
  const value = temperature >= lowest && temperature <= last ? interpolate(table, Math.max(temperature, first)) : null;
  if (value !== null) return known(value * unit);
  return unknown({
    reason: 'outOfValidity',
    input: `${property} of alloy ${alloy}: temperature`,
    value: temperature,
    range: [lowest, last],
    unit: 'temperature',
  });
}

/** Where the table behind {@link alloyProperty} comes from; its trust is that of the weakest row. */
export function alloyPropertySource(alloy: AlloyKey, property: AlloyProperty): Source {
  return alloys[alloy][property].source;
}

/** The same for any metal; inconsistent when there is no such table. */
export function materialPropertySource(material: MaterialKey, property: MaterialProperty): Known<Source> {
  const found = materials[material][property];
  return found ? known(found.source) : noTable(material, property);
}

function noTable(material: MaterialKey, property: MaterialProperty) {
  const having = materialKeys.filter((key) => materials[key][property]).join(', ');
  const detail = `${property}: expected a metal with a table (${having}), got ${material}, for which no figures were found`;
  return unknown({ reason: 'inconsistent', detail, paths: [] });
}
