import { airMassFlow } from '../trade/gas/air-mass-flow.ts';
import { exhaustDensity } from '../trade/gas/exhaust-density.ts';
import { exhaustGamma } from '../trade/gas/exhaust-gamma.ts';
import { exhaustGasConstant } from '../trade/gas/exhaust-gas-constant.ts';
import { exhaustMassFlow } from '../trade/gas/exhaust-mass-flow.ts';
import { exhaustViscosity } from '../trade/gas/exhaust-viscosity.ts';
import { fuelMassFlow } from '../trade/gas/fuel-mass-flow.ts';
import { soundSpeed } from '../trade/gas/sound-speed.ts';
import { at, derive, type Known, known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Exhaust at the port at peak power, SI. */
export interface ExhaustGas {
  /** Of the whole engine, kg/s, mean over the cycle. */
  readonly massFlow: number;
  /** kg/m3. */
  readonly density: number;
  /** Pa.s. */
  readonly viscosity: number;
  /** m/s. */
  readonly soundSpeed: number;
}

/** Mass flow and state of the exhaust at peak power. */
export function exhaustGas(context: FactContext): Known<ExhaustGas> {
  const { engine } = context.spec;
  const { displacement, peakSpeed, volumetricEfficiency, manifoldPressure, manifoldTemperature } = engine;
  const { lambda, stoichiometricAirFuel, exhaustTemperature, exhaustPressure } = engine;
  const deps = [displacement, peakSpeed, volumetricEfficiency, manifoldPressure, manifoldTemperature];
  return context.memo(
    'exhaust-gas',
    [...deps, lambda, stoichiometricAirFuel, exhaustTemperature, exhaustPressure],
    (): Known<ExhaustGas> =>
      derive({ massFlow: massFlow(context), state: state(context) }, (gas) =>
        known({ massFlow: gas.massFlow, ...gas.state }),
      ),
  );
}

function massFlow(context: FactContext): Known<number> {
  const { engine } = context.spec;
  const air = derive(
    {
      displacement: at<number>('engine.displacement', engine.displacement),
      speed: at<number>('engine.peakSpeed', engine.peakSpeed),
      volumetricEfficiency: at<number>('engine.volumetricEfficiency', engine.volumetricEfficiency),
      manifoldPressure: at<number>('engine.manifoldPressure', engine.manifoldPressure),
      manifoldTemperature: at<number>('engine.manifoldTemperature', engine.manifoldTemperature),
    },
    (intake) => airMassFlow.evaluate(intake),
  );
  return derive(
    {
      air,
      lambda: at<number>('engine.lambda', engine.lambda),
      stoichiometricAirFuel: at<number>('engine.stoichiometricAirFuel', engine.stoichiometricAirFuel),
    },
    ({ air: airFlow, lambda, stoichiometricAirFuel }) =>
      derive({ fuelFlow: fuelMassFlow.evaluate({ airFlow, lambda, stoichiometricAirFuel }) }, ({ fuelFlow }) =>
        exhaustMassFlow.evaluate({ airFlow, fuelFlow }),
      ),
  );
}

function state(context: FactContext): Known<Omit<ExhaustGas, 'massFlow'>> {
  const { engine } = context.spec;
  return derive(
    {
      lambda: at<number>('engine.lambda', engine.lambda),
      temperature: at<number>('engine.exhaustTemperature', engine.exhaustTemperature),
      pressure: at<number>('engine.exhaustPressure', engine.exhaustPressure),
    },
    ({ lambda, temperature, pressure }) => {
      const gamma = exhaustGamma.evaluate({ lambda, temperature });
      const gasConstant = exhaustGasConstant.evaluate({ lambda });
      return derive(
        {
          density: exhaustDensity.evaluate({ lambda, temperature, pressure }),
          viscosity: exhaustViscosity.evaluate({ lambda, temperature }),
          soundSpeed: derive({ gamma, gasConstant }, (gas) => soundSpeed.evaluate({ ...gas, temperature })),
        },
        (gas) => known({ density: gas.density, viscosity: gas.viscosity, soundSpeed: gas.soundSpeed }),
      );
    },
  );
}
