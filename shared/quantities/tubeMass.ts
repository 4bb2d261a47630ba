import { tubeMass } from '../trade/strength/tube-mass.ts';
import { at, derive, type Known, known } from '../units/known.ts';
import { runnerLength } from './centreline.ts';
import type { FactContext } from './context.ts';
import { metalProperty } from './metal.ts';

/** Room temperature, K: mass is weighed cold. */
const cold = 293.15;

/** Mass of all runner tube together, kg, from the centreline lengths and the nominal section. */
export function runnerTubeMass(context: FactContext): Known<number> {
  const { tube, runners } = context.spec;
  const lengths = Object.fromEntries(runners.map((runner) => [runner.id, runnerLength(context, runner)]));
  return derive(
    {
      length: derive(lengths, (all) => Object.values(all).reduce((sum, length) => sum + length, 0)),
      density: metalProperty(context, 'tube', 'density', known(cold)),
      outsideDiameter: at<number>('tube.outsideDiameter', tube.outsideDiameter),
      wall: at<number>('tube.wall', tube.wall),
    },
    (v) => tubeMass.evaluate(v),
  );
}
