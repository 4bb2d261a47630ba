import { meanGasVelocity } from '../trade/gas/mean-gas-velocity.ts';
import { meanMach } from '../trade/gas/mean-mach.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { exhaustGas } from './exhaustGas.ts';
import { cylinderShare } from './runnerFlow.ts';

/** Mean flow in a collector outlet at peak power. */
export interface OutletFlow {
  /** m/s. */
  readonly velocity: number;
  readonly mach: number;
  /** Share of the engine's exhaust that passes here. */
  readonly share: number;
}

/** Mean flow through the outlet of a collector: what its runners carry. `entry` names one entry of a divided inlet, null the only one there is. */
export function outletFlow(context: FactContext, entry: number | null): Known<OutletFlow> {
  const { runners, engine, collector } = context.spec;
  const gas = exhaustGas(context);
  const deps = [runners, engine.firingOrder, gas, collector.outletDiameter];
  return context.memo(`outlet-flow/${entry ?? 'all'}`, deps, () =>
    derive(
      {
        share: exhaustShare(context, entry),
        gas,
        bore: at<number>('collector.outletDiameter', collector.outletDiameter),
      },
      (v) =>
        derive(
          {
            velocity: meanGasVelocity.evaluate({
              massFlow: v.gas.massFlow * v.share,
              density: v.gas.density,
              bore: v.bore,
            }),
          },
          ({ velocity }) =>
            derive({ mach: meanMach.evaluate({ velocity, soundSpeed: v.gas.soundSpeed }) }, ({ mach }) =>
              known({ velocity, mach, share: v.share }),
            ),
        ),
    ),
  );
}

/** Share of the engine's exhaust in one entry. */
function exhaustShare(context: FactContext, entry: number | null): Known<number> {
  const { runners } = context.spec;
  const shares = Object.fromEntries(runners.map((r) => [r.id, cylinderShare(context, r)]));
  if (entry === null) return derive(shares, (v) => Object.values(v).reduce((sum, share) => sum + share, 0));
  const entries = Object.fromEntries(runners.map((r) => [`${r.id}/entry`, at(`runners.${r.id}.entry`, r.entry)]));
  return derive({ ...shares, ...entries }, (v): number | Known<number> => {
    const here = runners.filter((r) => v[`${r.id}/entry`] === entry);
    if (here.length > 0) return here.reduce((sum, r) => sum + (v[r.id] ?? Number.NaN), 0);
    const detail = `expected at least one runner on turbine entry ${entry}, got none`;
    return unknown({ reason: 'inconsistent', detail, paths: runners.map((r) => `runners.${r.id}.entry`) });
  });
}
