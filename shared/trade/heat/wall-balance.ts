import { type Known, known } from '../../units/known.ts';
import { inconsistent, type Limits, outsideLimits } from '../data/validity.ts';
import { fallingRoot } from './bracket.ts';
import { outsideLoss, type Surroundings } from './outside-loss.ts';

/** A bare tube: m, wall conductivity in W/(m.K). */
export interface Wall {
  readonly bore: number;
  readonly outsideDiameter: number;
  readonly conductivity: number;
  readonly emissivity: number;
}
/** Gas inside: bulk temperature K, steady convection coefficient W/(m2.K), and what pulsation multiplies it by (1.5 to 3 in runners, uncertain). */
export interface InsideGas {
  readonly temperature: number;
  readonly coefficient: number;
  readonly pulsation: number;
}
/** Temperatures of both faces, K, and heat lost, W per metre. */
export interface WallState {
  readonly outside: number;
  readonly inside: number;
  readonly heatPerLength: number;
}

const limits: Limits<'bore' | 'outsideDiameter' | 'conductivity' | 'emissivity' | 'gas' | 'coefficient' | 'pulsation'> =
  {
    bore: { range: [1e-3, 1], unit: 'length' },
    outsideDiameter: { range: [1e-3, 1], unit: 'length' },
    conductivity: { range: [1, 500], unit: 'conductivity' },
    emissivity: { range: [0, 1], unit: 'share' },
    gas: { range: [300, 1800], unit: 'temperature' },
    coefficient: { range: [0.1, 1e4], unit: 'heatTransfer' },
    pulsation: { range: [0.5, 5], unit: 'ratio' },
  };

/**
 * Wall temperature of a bare tube in still air where what comes in by convection leaves by natural convection and radiation; wall
 * conduction counted, radiation of the gas left out. Gas must be hotter than air and walls, the wall thicker than nothing.
 * Source: own balance, solved by bracketing between the surroundings and the gas.
 */
export function wallBalance(wall: Wall, gas: InsideGas, around: Surroundings): Known<WallState> {
  const { bore, outsideDiameter, conductivity, emissivity } = wall;
  const { coefficient, pulsation } = gas;
  const inputs = { bore, outsideDiameter, conductivity, emissivity, gas: gas.temperature, coefficient, pulsation };
  const outside = outsideLimits('wall balance', limits, inputs);
  if (outside) return outside;
  if (!(outsideDiameter > bore))
    return inconsistent(
      `wall balance: expected an outside diameter above the bore ${bore} m, got ${outsideDiameter} m`,
    );
  // A hair above the surroundings: at equal temperatures there is no natural convection to compute.
  const coldest = Math.max(around.air, around.walls) + 0.01;
  const lossAt = (surface: number) => outsideLoss({ outsideDiameter, emissivity, surface }, around);
  const cold = lossAt(coldest);
  if (!cold.known) return cold;
  if (!(gas.temperature > coldest))
    return inconsistent(
      `wall balance: expected gas hotter than the surroundings at ${coldest} K, got ${gas.temperature} K`,
    );
  const resistance = Math.log(outsideDiameter / bore) / (2 * Math.PI * conductivity);
  const gain = pulsation * coefficient * Math.PI * bore;
  const surplus = (surface: number) => {
    const lost = lossAt(surface);
    if (!lost.known) return Number.NaN;
    return gain * (gas.temperature - surface - lost.value.heatPerLength * resistance) - lost.value.heatPerLength;
  };
  const surface = fallingRoot(surplus, coldest, gas.temperature);
  const lost = lossAt(surface ?? Number.NaN);
  if (surface === null)
    return inconsistent('wall balance: no temperature between surroundings and gas closes the balance');
  if (!lost.known) return lost;
  const { heatPerLength } = lost.value;
  return known({ outside: surface, inside: surface + heatPerLength * resistance, heatPerLength });
}
