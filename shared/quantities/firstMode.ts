import { firingFrequency } from '../trade/strength/firing-frequency.ts';
import { firstModeFrequency } from '../trade/strength/first-mode-frequency.ts';
import { formatSi } from '../units/format.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { metalProperty } from './metal.ts';
import { massPerRoot } from './turboLoad.ts';

/** First bending mode of one hot runner root with its part of the turbo at the arm, Hz. An upper bound: turbo inertia and flange give are not in it. */
export function turboFirstMode(context: FactContext): Known<number> {
  const { tube, turbo } = context.spec;
  const temperature = at<number>('tube.wallTemperature', tube.wallTemperature);
  return derive(
    {
      modulus: metalProperty(context, 'tube', 'modulus', temperature),
      density: metalProperty(context, 'tube', 'density', temperature),
      outsideDiameter: at<number>('tube.outsideDiameter', tube.outsideDiameter),
      wall: at<number>('tube.wall', tube.wall),
      length: at<number>('turbo.arm', turbo.arm),
      tipMass: massPerRoot(context),
    },
    (v) => firstModeFrequency.evaluate(v),
  );
}

/** Firing frequency at the lowest and the highest running speed, Hz. */
export interface FiringBand {
  readonly low: number;
  readonly high: number;
}

/** The band the firing frequency sweeps in the run range; inconsistent when the range is upside down. */
export function firingBand(context: FactContext): Known<FiringBand> {
  const { engine, service } = context.spec;
  const { cylinders } = engine;
  const { lowSpeed, topSpeed } = service;
  return context.memo('firing-band', [cylinders, lowSpeed, topSpeed], () =>
    derive(
      {
        cylinders: at<number>('engine.cylinders', cylinders),
        lowSpeed: at<number>('service.lowSpeed', lowSpeed),
        topSpeed: at<number>('service.topSpeed', topSpeed),
      },
      (v): Known<FiringBand> => {
        if (v.lowSpeed >= v.topSpeed) {
          const detail = `expected a highest running speed above ${formatSi('rotation', v.lowSpeed)}, got ${formatSi('rotation', v.topSpeed)}`;
          return unknown({ reason: 'inconsistent', detail, paths: ['service.lowSpeed', 'service.topSpeed'] });
        }
        const low = firingFrequency.evaluate({ speed: v.lowSpeed, cylinders: v.cylinders });
        const high = firingFrequency.evaluate({ speed: v.topSpeed, cylinders: v.cylinders });
        return derive({ low, high }, (band) => known(band));
      },
    ),
  );
}
