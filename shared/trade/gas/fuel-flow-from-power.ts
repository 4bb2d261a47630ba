import { type Known, known } from '../../units/known.ts';
import { type Limits, outsideLimits } from '../data/validity.ts';

/** Validity ranges: brake power in W, specific consumption in kg/J (1 g/kWh = 1/3.6e9 kg/J). */
export const fuelFromPowerLimits: Limits<'power' | 'consumption'> = {
  power: { range: [0, 5e6], unit: 'W' },
  consumption: { range: [150 / 3.6e9, 1000 / 3.6e9], unit: 'kg/J' },
};

/**
 * Fuel flow, kg/s, from brake power (W) and brake specific fuel consumption (kg/J). A cross-check of the flow found from air:
 * boosted gasoline engines use 300 to 380 g/kWh at full load (common practice). Source: definition of specific consumption.
 */
export function fuelFlowFromPower(power: number, consumption: number): Known<number> {
  return outsideLimits('fuel flow from power', fuelFromPowerLimits, { power, consumption }) ?? known(consumption * power);
}
