import type { Runner } from '../spec/spec.ts';
import { meanGasVelocity } from '../trade/gas/mean-gas-velocity.ts';
import { meanMach } from '../trade/gas/mean-mach.ts';
import { type RunnerLoss, runnerLoss } from '../trade/loss/runner-loss.ts';
import { at, derive, type Known, unknown } from '../units/known.ts';
import { runnerCentreline } from './centreline.ts';
import type { FactContext } from './context.ts';
import { exhaustGas } from './exhaustGas.ts';
import { runnerBore } from './tube.ts';

/**
 * Mean gas velocity in a runner at peak power, m/s: one cylinder's share of the exhaust. The firing order says how many cylinders
 * share the engine's flow, so a header on one bank of a V engine is right too. Two runners on one cylinder are inconsistent.
 */
export function runnerVelocity(context: FactContext, runner: Runner): Known<number> {
  return derive(
    { share: cylinderShare(context, runner), gas: exhaustGas(context), bore: runnerBore(context) },
    ({ share, gas, bore }) => meanGasVelocity.evaluate({ massFlow: gas.massFlow * share, density: gas.density, bore }),
  );
}

/** Mean Mach number in a runner at peak power. */
export function runnerMach(context: FactContext, runner: Runner): Known<number> {
  return derive({ velocity: runnerVelocity(context, runner), gas: exhaustGas(context) }, ({ velocity, gas }) =>
    meanMach.evaluate({ velocity, soundSpeed: gas.soundSpeed }),
  );
}

/** Total-pressure loss from port to collector inlet at peak power, Pa. */
export function runnerPressureLoss(context: FactContext, runner: Runner): Known<RunnerLoss> {
  const line = runnerCentreline(context, runner);
  const gas = exhaustGas(context);
  const velocity = runnerVelocity(context, runner);
  const bore = runnerBore(context);
  const roughness = at<number>('tube.roughness', context.spec.tube.roughness);
  // Primitives stand for the derived inputs: those wrappers are made anew on every call.
  const deps = [line, gas, identity(velocity), identity(bore), identity(roughness)];
  return context.memo(`runner-loss/${runner.id}`, deps, () =>
    derive({ line, gas, velocity, bore, roughness }, (v) =>
      runnerLoss(
        {
          density: v.gas.density,
          viscosity: v.gas.viscosity,
          velocity: v.velocity,
          bore: v.bore,
          roughness: v.roughness,
        },
        v.line.pieces.filter((piece) => piece.kind === 'line'),
        v.line.bends,
      ),
    ),
  );
}

function identity(fact: Known<number>): number | string {
  return fact.known ? fact.value : JSON.stringify(fact.why);
}

/** Share of the engine's exhaust that one cylinder makes; its runner must be the only one on it. */
export function cylinderShare(context: FactContext, runner: Runner): Known<number> {
  const path = `runners.${runner.id}.cylinder`;
  return derive(
    {
      order: at('engine.firingOrder', context.spec.engine.firingOrder),
      cylinder: at<number>(path, runner.cylinder),
    },
    ({ order, cylinder }): number | Known<number> => {
      if (new Set(order).size !== order.length) {
        const detail = `expected each cylinder once in the firing order, got ${order.join('-')}`;
        return unknown({ reason: 'inconsistent', detail, paths: ['engine.firingOrder'] });
      }
      if (!order.includes(cylinder)) {
        const detail = `expected a cylinder of the firing order ${order.join('-')}, got ${cylinder}`;
        return unknown({ reason: 'inconsistent', detail, paths: [path, 'engine.firingOrder'] });
      }
      const same = context.spec.runners.filter((other) => other.cylinder === cylinder);
      if (same.length === 1) return 1 / order.length;
      const detail = `expected one runner for cylinder ${cylinder}, got ${same.map((r) => r.name ?? r.id).join(' and ')}`;
      return unknown({ reason: 'inconsistent', detail, paths: same.map((r) => `runners.${r.id}.cylinder`) });
    },
  );
}
