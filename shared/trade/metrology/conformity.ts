import { type Known, known } from '../../units/known.ts';
import { inconsistent, type Limits, outsideLimits } from '../data/validity.ts';
import { normalProbability } from '../schedule/normal.ts';

/** Limits of a characteristic; at least one. */
export interface Tolerance {
  readonly lower?: number;
  readonly upper?: number;
}
/** What a measurement with an uncertainty shows about a tolerance. "Not proven" is neither a pass nor a fail. */
export interface Conformity {
  readonly verdict: 'conforms' | 'does not conform' | 'not proven';
  /** Guard band g = k u taken off each limit. */
  readonly guard: number;
  /** Range of measured values that prove conformity; ends are infinite where there is no limit. */
  readonly accept: readonly [number, number];
  /** Chance that the true value lies outside the tolerance, normal error about the measured value. */
  readonly outsideShare: number;
}

/** Guard factor of ISO 14253-1:2017 (conformity proved at 95 %, one-sided, normal error small against the tolerance), from memory. */
export const guardFactor2017 = 1.65;
/** Guard factor of the 1998 edition and of many contracts: the expanded uncertainty, k = 2; from memory. */
export const guardFactor1998 = 2;

const limits: Limits<'measured' | 'uncertainty' | 'factor'> = {
  measured: { range: [-1e12, 1e12], unit: 'unit of the measurement' },
  uncertainty: { range: [0, 1e12], unit: 'unit of the measurement' },
  factor: { range: [0, 10], unit: 'ratio' },
};

/**
 * Decision on a measured value with standard uncertainty `uncertainty`: conforms inside the tolerance less the guard on each side, does
 * not conform outside the tolerance plus the guard, otherwise not proven. All in one unit. Source: ISO 14253-1 (from memory).
 */
export function conformity(
  measured: number,
  uncertainty: number,
  tolerance: Tolerance,
  factor: number = guardFactor2017,
): Known<Conformity> {
  const outside = outsideLimits('conformity', limits, { measured, uncertainty, factor });
  if (outside) return outside;
  const { lower = Number.NEGATIVE_INFINITY, upper = Number.POSITIVE_INFINITY } = tolerance;
  if (!(lower < upper) || (lower === Number.NEGATIVE_INFINITY && upper === Number.POSITIVE_INFINITY))
    return inconsistent(
      `conformity: expected a lower limit below an upper one, or one of them, got ${lower} and ${upper}`,
    );
  const guard = factor * uncertainty;
  const accept: readonly [number, number] = [lower + guard, upper - guard];
  const proven = measured >= accept[0] && measured <= accept[1];
  const failed = measured < lower - guard || measured > upper + guard;
  const below = (limit: number) => {
    if (!Number.isFinite(limit)) return limit > 0 ? 1 : 0;
    if (uncertainty === 0) return measured <= limit ? 1 : 0;
    return normalProbability((limit - measured) / uncertainty);
  };
  const above = uncertainty === 0 ? Number(measured > upper) : 1 - below(upper);
  const under = uncertainty === 0 ? Number(measured < lower) : below(lower);
  return known({
    verdict: proven ? 'conforms' : failed ? 'does not conform' : 'not proven',
    guard,
    accept,
    outsideShare: above + under,
  });
}

/** Standard uncertainty of parts that do not depend on each other: root of the sum of squares. A negative or non-finite part: inconsistent. */
export function combinedUncertainty(parts: readonly number[]): Known<number> {
  const bad = parts.find((part) => !(part >= 0 && Number.isFinite(part)));
  if (bad !== undefined) return inconsistent(`combined uncertainty: expected finite parts of at least 0, got ${bad}`);
  return known(Math.hypot(...parts));
}
