import { derive, type Known, known, unknown } from '../../units/known.ts';
import { type PropertyClassKey, propertyClasses } from '../data/property-classes.ts';
import { type ThreadKey, threads } from '../data/threads.ts';
import { defineFormula } from '../formula.ts';
import { interpolate, type Point, tableRange } from '../interpolation.ts';

/** Proof load derated by the share of yield left when hot, N. */
export const hotProofLoad = defineFormula({
  id: 'hot-proof-load',
  title: 'Hot proof load',
  inputs: {
    stressArea: { quantity: 'area', range: [1e-7, 1e-2], help: 'As, nominal stress area' },
    proofStress: {
      quantity: 'stress',
      range: [1e7, 2e9],
      help: 'Sp, proof stress of the property class; Rp0.2 for stainless',
    },
    hotYieldShare: { quantity: 'share', range: [0, 1], help: 'yield at temperature over yield at 20 C' },
  },
  output: { quantity: 'force', help: 'F = As Sp yield(T) / yield(20 C)' },
  source: { document: 'own: ISO 898-1 proof load scaled by the hot yield table of the class', trust: 'own' },
  examples: [
    {
      inputs: { stressArea: 36.6e-6, proofStress: 830e6, hotYieldShare: 705 / 940 },
      expected: 22783.5,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: 'M8 class 10.9 at 300 C', trust: 'own' },
    },
  ],
  compute({ stressArea, proofStress, hotYieldShare }) {
    return stressArea * proofStress * hotYieldShare;
  },
});

/** Yield of a property class at `temperature` (K) over its yield at 20 C; outside the hot yield table: outside validity. 0 C counts as cold. */
export function hotYieldShare(propertyClass: PropertyClassKey, temperature: number): Known<number> {
  const row = propertyClasses[propertyClass];
  const table = row.hotYield.map(([celsius, megapascal]): Point => [celsius + 273.15, (megapascal * 1e6) / row.yield]);
  const [first, last] = tableRange(table);
  const found = temperature >= 273.15 && temperature <= last ? interpolate(table, Math.max(temperature, first)) : null;
  if (found !== null) return known(found);
  return unknown({
    reason: 'outOfValidity',
    input: `hot yield of class ${propertyClass}: temperature`,
    value: temperature,
    range: [273.15, last],
    unit: 'temperature',
  });
}

/** Hot proof load of a stud by thread and property class, N, at stud temperature `temperature` (K). */
export function studHotProofLoad(
  thread: ThreadKey,
  propertyClass: PropertyClassKey,
  temperature: number,
): Known<number> {
  const { proofStress } = propertyClasses[propertyClass];
  const { stressArea } = threads[thread];
  return derive({ share: hotYieldShare(propertyClass, temperature) }, ({ share }) =>
    hotProofLoad.evaluate({ stressArea, proofStress, hotYieldShare: share }),
  );
}
