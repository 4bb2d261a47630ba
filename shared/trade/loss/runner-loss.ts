import { derive, type Known, known, unknown } from '../../units/known.ts';
import { bendLoss } from './bend-loss.ts';
import { bendReynoldsCorrection } from './bend-reynolds-correction.ts';
import { frictionFactor } from './friction-factor.ts';
import { reynoldsNumber } from './reynolds-number.ts';
import { straightLoss } from './straight-loss.ts';

/** Gas flow in one round bore, SI. */
export interface BoreFlow {
  /** kg/m3. */
  readonly density: number;
  /** Mean, m/s. */
  readonly velocity: number;
  /** Inside diameter, m. */
  readonly bore: number;
  /** Dynamic, Pa.s. */
  readonly viscosity: number;
  /** Equivalent sand-grain roughness, m. */
  readonly roughness: number;
}
/** A straight leg; m. */
export interface Straight {
  readonly length: number;
}
/** A smooth bend: deflection in rad, centreline radius in m. */
export interface Bend {
  readonly angle: number;
  readonly radius: number;
}
/** Total-pressure loss of a runner and its two parts, Pa. */
export interface RunnerLoss {
  readonly total: number;
  readonly straight: number;
  readonly bends: number;
}

/**
 * Pressure lost between port and collector at steady mean flow, Pa. Turbulent flow only: bends need Re 1e4 to 1e6.
 * Any part outside its validity makes the whole unknown. Source: Darcy friction plus Miller bend losses, K = K_b C_Re C_f summed over
 * the bends (own composition). Bends closer than 5 to 10 diameters interact, so S-shapes may lose more than the sum.
 */
export function runnerLoss(flow: BoreFlow, straights: readonly Straight[], bends: readonly Bend[]): Known<RunnerLoss> {
  const { density, velocity, bore, viscosity } = flow;
  const reynolds = reynoldsNumber.evaluate({ density, velocity, bore, viscosity });
  return derive({ reynolds }, (v) => {
    const rough = frictionFactor.evaluate({ reynolds: v.reynolds, relativeRoughness: flow.roughness / bore });
    const smooth = frictionFactor.evaluate({ reynolds: v.reynolds, relativeRoughness: 0 });
    return derive({ rough, smooth }, (f) => {
      const straight = straightPart(flow, f.rough, straights);
      const coefficient = bendPart(v.reynolds, bore, bends);
      return derive({ straight, coefficient }, (parts): Known<RunnerLoss> => {
        const bendPressure = (parts.coefficient * (f.rough / f.smooth) * density * velocity ** 2) / 2;
        return known({ total: parts.straight + bendPressure, straight: parts.straight, bends: bendPressure });
      });
    });
  });
}

function straightPart(flow: BoreFlow, factor: number, straights: readonly Straight[]): Known<number> {
  const { density, velocity, bore } = flow;
  return sum(
    straights.map(({ length }) => straightLoss.evaluate({ frictionFactor: factor, length, bore, density, velocity })),
  );
}

/** Sum of K_b C_Re; the roughness ratio is common to all bends of a bore and applied by the caller. */
function bendPart(reynolds: number, bore: number, bends: readonly Bend[]): Known<number> {
  return sum(
    bends.map(({ angle, radius }) => {
      const radiusRatio = radius / bore;
      const smooth = bendLoss.evaluate({ radiusRatio, angle });
      const correction = bendReynoldsCorrection.evaluate({ reynolds, radiusRatio });
      return derive({ smooth, correction }, (k) => k.smooth * k.correction);
    }),
  );
}

function sum(parts: readonly Known<number>[]): Known<number> {
  let total = 0;
  for (const part of parts) {
    if (!part.known) return unknown(part.why);
    total += part.value;
  }
  return known(total);
}
