import type { AlloyKey } from '../trade/data/alloys.ts';
import { type RuptureKey, rupturePoints } from '../trade/data/rupture-points.ts';
import { ruptureStress } from '../trade/strength/rupture.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { metalOf } from './metal.ts';
import { ownRuptureStress } from './ownMaterial.ts';

/** Published sets of rupture points of each runner alloy. */
const setsOf: Readonly<Record<AlloyKey, readonly RuptureKey[]>> = {
  '304': ['304'],
  '321': [],
  '625': ['625', '625-handbook'],
};

/** Stress that ruptures the runner alloy at wall temperature within the stated life, Pa: the lowest of the published sets that reach there. */
export function runnerRuptureStress(context: FactContext): Known<number> {
  const { tube, service } = context.spec;
  return derive(
    {
      metal: metalOf(context, 'tube'),
      temperature: at<number>('tube.wallTemperature', tube.wallTemperature),
      life: at<number>('service.hotLife', service.hotLife),
    },
    ({ metal, ...hold }) =>
      metal.kind === 'own'
        ? ownRuptureStress(metal.row, hold)
        : leastRuptureStress(setsOf[metal.key], { alloy: metal.key, ...hold }),
  );
}

interface Hold {
  readonly alloy: AlloyKey;
  readonly temperature: number;
  readonly life: number;
}

function leastRuptureStress(sets: readonly RuptureKey[], { alloy, temperature, life }: Hold): Known<number> {
  const having = Object.entries(setsOf).filter(([, keys]) => keys.length > 0);
  const detail = `expected an alloy with published rupture points (${having.map(([key]) => key).join(', ')}), got ${alloy}`;
  let least: Known<number> = unknown({ reason: 'inconsistent', detail, paths: ['tube.alloy'] });
  for (const set of sets) {
    const found = withFloor(set, ruptureStress(set, temperature, life), sets);
    if (!found.known && least.known) continue;
    if (!found.known || !least.known || found.value < least.value) least = found;
  }
  return least;
}

/** Below its first point the set that starts lowest is held level: the metal is stronger there, so the figure is on the safe side. */
function withFloor(set: RuptureKey, found: Known<number>, sets: readonly RuptureKey[]): Known<number> {
  if (found.known || found.why.reason !== 'outOfValidity') return found;
  const { value, range, unit } = found.why;
  const starts = sets.map((key) => rupturePoints[key].points[0]?.[0] ?? Number.POSITIVE_INFINITY);
  const first = rupturePoints[set].points[0];
  if (unit !== 'ratio' || !first || value >= range[0] || first[0] > Math.min(...starts)) return found;
  return known(first[1]);
}
