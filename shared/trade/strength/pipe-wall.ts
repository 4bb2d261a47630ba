import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** Inputs of the wall of a pipe under pressure. */
export interface PipeWallInputs {
  /** P, design gauge pressure, Pa. */
  readonly pressure: number;
  /** D, m. */
  readonly outsideDiameter: number;
  /** S, Pa at the design temperature. */
  readonly allowableStress: number;
  /** E, 1.0 seamless, 0.80 to 0.85 single-butt without radiography. */
  readonly jointQuality: number;
  /** W, 1.0 up to 510 C falling in a straight line to 0.5 at 816 C for most alloys. */
  readonly weldStrength: number;
  /** Y, see {@link wallCoefficient}. */
  readonly coefficient: number;
  /** c, corrosion and machining, m. */
  readonly allowance: number;
  /** Mill undertolerance as a share of the ordered wall. */
  readonly millTolerance: number;
}
/** Walls in m: for pressure alone, with the allowance, and as ordered. */
export interface PipeWall {
  readonly pressure: number;
  readonly least: number;
  readonly ordered: number;
}

const limits: Readonly<Record<keyof PipeWallInputs, Limit>> = {
  pressure: ['pressure', 0, 5e7],
  outsideDiameter: ['length', 5e-3, 2],
  allowableStress: ['stress', 1e5, 1e9],
  jointQuality: ['ratio', 0.6, 1],
  weldStrength: ['ratio', 0.5, 1],
  coefficient: ['ratio', 0.4, 0.7],
  allowance: ['length', 0, 0.02],
  millTolerance: ['share', 0, 0.5],
};

/**
 * Wall of a straight pipe: t = P D / (2 (S E W + P Y)), plus allowance, over (1 - mill tolerance). Holds for t < D/6, else inconsistent.
 * Source: ASME B31.3 304.1.2 eq. (3a), from memory, variable list read. Allowables above 800 C were not found.
 */
export function pipeWall(inputs: PipeWallInputs): Known<PipeWall> {
  const refused = outsideLimits('pipe-wall', inputs, limits);
  if (refused) return refused;
  const { pressure: p, outsideDiameter, allowableStress, jointQuality, weldStrength, coefficient } = inputs;
  const wall = (p * outsideDiameter) / (2 * (allowableStress * jointQuality * weldStrength + p * coefficient));
  if (wall >= outsideDiameter / 6)
    return contradiction(`pipe-wall: expected a wall below D/6 = ${outsideDiameter / 6} m, got ${wall} m`);
  const least = wall + inputs.allowance;
  return known({ pressure: wall, least, ordered: least / (1 - inputs.millTolerance) });
}

/** Families with their own coefficient Y. */
export const wallFamilies = ['austenitic', 'ferritic', 'nickel'] as const;
/** One of {@link wallFamilies}. */
export type WallFamily = (typeof wallFamilies)[number];

/** Degrees C up to which Y is 0.4, is 0.5 and from which it is 0.7. */
const steps: Readonly<Record<WallFamily, readonly [number, number, number]>> = {
  austenitic: [566, 593, 621],
  ferritic: [482, 510, 538],
  nickel: [649, 677, 704],
};

/** Y at metal temperature `temperature` (K, 0 C to 900 C), straight between the steps. Source: ASME B31.3 table 304.1.1 (memory; nickel steps uncertain). */
export function wallCoefficient(family: WallFamily, temperature: number): Known<number> {
  const refused = outsideLimits(
    'pipe-wall coefficient',
    { temperature },
    { temperature: ['temperature', 273.15, 1173.15] },
  );
  if (refused) return refused;
  const [low, middle, high] = steps[family];
  const celsius = temperature - 273.15;
  if (celsius <= low) return known(0.4);
  if (celsius <= middle) return known(0.4 + (0.1 * (celsius - low)) / (middle - low));
  return known(celsius >= high ? 0.7 : 0.5 + (0.2 * (celsius - middle)) / (high - middle));
}

/** W at metal temperature `temperature` (K, 0 C to 816 C). Source: ASME B31.3 302.3.5(e), from memory. */
export function weldStrengthFactor(temperature: number): Known<number> {
  const refused = outsideLimits(
    'weld strength factor',
    { temperature },
    { temperature: ['temperature', 273.15, 1089.15] },
  );
  if (refused) return refused;
  return known(1 - (0.5 * Math.max(0, temperature - 783.15)) / 306);
}
