import type { Runner } from '../spec/spec.ts';
import { exhaustConductivity } from '../trade/gas/exhaust-conductivity.ts';
import { exhaustGamma } from '../trade/gas/exhaust-gamma.ts';
import { exhaustGasConstant } from '../trade/gas/exhaust-gas-constant.ts';
import { boreHeatTransfer } from '../trade/heat/bore-heat-transfer.ts';
import { gnielinskiNusselt } from '../trade/heat/gnielinski-nusselt.ts';
import { wallBalance } from '../trade/heat/wall-balance.ts';
import { frictionFactor } from '../trade/loss/friction-factor.ts';
import { reynoldsNumber } from '../trade/loss/reynolds-number.ts';
import { at, derive, type Known } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { exhaustGas } from './exhaustGas.ts';
import { metalProperty, ownMaterialOf, serviceLimit } from './metal.ts';
import { runnerVelocity } from './runnerFlow.ts';
import { runnerBore } from './tube.ts';

/** Estimated temperature of the inner face of a runner's wall at peak power, K: steady balance of a bare tube in still air. */
export function wallEstimate(context: FactContext, runner: Runner): Known<number> {
  const { heat, tube } = context.spec;
  const velocity = runnerVelocity(context, runner);
  // All runners are one tube and share the flow alike, so they share the slot too.
  const speed = velocity.known ? velocity.value : JSON.stringify(velocity.why);
  const deps = [heat, tube, ownMaterialOf(context, 'tube'), exhaustGas(context), speed];
  return context.memo('wall-estimate', deps, () =>
    derive(
      {
        coefficient: insideCoefficient(context, velocity),
        bore: runnerBore(context),
        outsideDiameter: at<number>('tube.outsideDiameter', tube.outsideDiameter),
        conductivity: wallConductivity(context),
        emissivity: at<number>('heat.emissivity', heat.emissivity),
        surroundings: at<number>('heat.surroundings', heat.surroundings),
        pulsation: at<number>('heat.pulsation', heat.pulsation),
        temperature: at<number>('engine.exhaustTemperature', context.spec.engine.exhaustTemperature),
      },
      ({ coefficient, pulsation, temperature, surroundings, ...wall }) =>
        derive(
          {
            state: wallBalance(
              wall,
              { temperature, coefficient, pulsation },
              { air: surroundings, walls: surroundings },
            ),
          },
          ({ state }) => state.inside,
        ),
    ),
  );
}

/** At the stated wall temperature, or at the service limit when more is stated: it moves the result by a few kelvin at most. */
function wallConductivity(context: FactContext): Known<number> {
  const temperature = derive(
    {
      stated: at<number>('tube.wallTemperature', context.spec.tube.wallTemperature),
      limit: serviceLimit(context, 'tube'),
    },
    ({ stated, limit }) => Math.min(stated, limit),
  );
  return metalProperty(context, 'tube', 'conductivity', temperature);
}

/** Steady convection coefficient inside, W/(m2.K). */
function insideCoefficient(context: FactContext, velocity: Known<number>): Known<number> {
  const { engine, tube } = context.spec;
  return derive(
    {
      velocity,
      gas: exhaustGas(context),
      bore: runnerBore(context),
      roughness: at<number>('tube.roughness', tube.roughness),
      lambda: at<number>('engine.lambda', engine.lambda),
      temperature: at<number>('engine.exhaustTemperature', engine.exhaustTemperature),
    },
    ({ velocity: speed, gas, bore, roughness, lambda, temperature }) => {
      const { density, viscosity } = gas;
      const reynolds = reynoldsNumber.evaluate({ density, velocity: speed, bore, viscosity });
      const transport = derive(
        {
          conductivity: exhaustConductivity.evaluate({ lambda, temperature }),
          gamma: exhaustGamma.evaluate({ lambda, temperature }),
          gasConstant: exhaustGasConstant.evaluate({ lambda }),
        },
        ({ conductivity, gamma, gasConstant }) => {
          const heatCapacity = (gamma * gasConstant) / (gamma - 1);
          return { conductivity, prandtl: (heatCapacity * viscosity) / conductivity };
        },
      );
      return derive({ reynolds, transport }, (flow) =>
        nusseltCoefficient({ ...flow.transport, reynolds: flow.reynolds, bore, roughness }),
      );
    },
  );
}

function nusseltCoefficient(flow: {
  readonly reynolds: number;
  readonly prandtl: number;
  readonly conductivity: number;
  readonly bore: number;
  readonly roughness: number;
}): Known<number> {
  const { reynolds, prandtl, conductivity, bore, roughness } = flow;
  return derive({ friction: frictionFactor.evaluate({ reynolds, relativeRoughness: roughness / bore }) }, (v) =>
    derive({ nusselt: gnielinskiNusselt.evaluate({ reynolds, prandtl, frictionFactor: v.friction }) }, ({ nusselt }) =>
      boreHeatTransfer.evaluate({ nusselt, conductivity, bore }),
    ),
  );
}
