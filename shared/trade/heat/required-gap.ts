import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent, type Limits, outsideLimits } from '../data/validity.ts';
import { irradiation } from './radiation.ts';
import { type Target, targetTemperature } from './target-temperature.ts';
import { viewFactorCylinder } from './view-factor-cylinder.ts';
import { viewFactorRod } from './view-factor-rod.ts';
import { viewFactorSphere } from './view-factor-sphere.ts';

/** How the neighbour sees the hot body: a surface facing a pipe, a surface facing a housing taken as a sphere, a cable along a pipe. */
export type Pairing = 'surface-pipe' | 'surface-sphere' | 'cable-pipe';

/** The hot body and what stands between; m, K, dimensionless. */
export interface HotBody {
  readonly pairing: Pairing;
  readonly radius: number;
  readonly emissivity: number;
  readonly temperature: number;
  /** Share of its radiation a shield lets through; 1 without. */
  readonly shieldRatio: number;
}
/** Highest temperature of the neighbour and how far to stay below it, K. */
export interface TemperatureLimit {
  readonly limit: number;
  readonly margin: number;
}
/** Smallest gap that keeps the limit, m, and the temperature there, K. */
export interface RequiredGap {
  readonly gap: number;
  readonly temperature: number;
}

/** Gaps searched, m. Below the first a surface touches sooner or later, above the last nothing here is near. */
export const gapRange = [1e-3, 2] as const;

const viewFactors = {
  'surface-pipe': viewFactorCylinder,
  'surface-sphere': viewFactorSphere,
  'cable-pipe': viewFactorRod,
} as const;

const limits: Limits<'limit' | 'margin'> = {
  limit: { range: [220, 1800], unit: 'temperature' },
  margin: { range: [0, 500], unit: 'K' },
};

/** Steady temperature of a neighbour at `gap` (m) from a hot body in `air` (K), K; surroundings at air temperature. */
export function neighbourTemperature(hot: HotBody, target: Target, air: number, gap: number): Known<number> {
  const { radius, emissivity, temperature, shieldRatio } = hot;
  const viewFactor = viewFactors[hot.pairing].evaluate({ radius, distance: radius + gap });
  return derive({ viewFactor }, (v) =>
    derive(
      { shone: irradiation({ viewFactor: v.viewFactor, emissivity, temperature, ambient: air, shieldRatio }) },
      ({ shone }) => targetTemperature(shone, target, air),
    ),
  );
}

/**
 * Smallest gap at which the neighbour stays at or below its limit less the margin, found by bisection: the temperature falls with the
 * gap as long as the hot body is hotter than the air. No such gap up to 2 m, or a body colder than the air: inconsistent.
 */
export function requiredGap(hot: HotBody, target: Target, air: number, allowed: TemperatureLimit): Known<RequiredGap> {
  const outside = outsideLimits('required gap', limits, { ...allowed });
  if (outside) return outside;
  if (!(hot.temperature > air))
    return inconsistent(`required gap: expected a body hotter than the air at ${air} K, got ${hot.temperature} K`);
  const highest = allowed.limit - allowed.margin;
  const at = (gap: number) => neighbourTemperature(hot, target, air, gap);
  let [close, far]: [number, number] = [...gapRange];
  return derive({ near: at(close), away: at(far) }, ({ near, away }): Known<RequiredGap> => {
    if (near <= highest) return known({ gap: close, temperature: near });
    if (away > highest)
      return inconsistent(`required gap: expected to get down to ${highest} K within ${far} m, got ${away} K there`);
    let temperature = away;
    // Keeps the far end, which holds the limit: the answer is never a hair too close.
    for (let i = 0; i < 60; i++) {
      const middle = (close + far) / 2;
      const there = at(middle);
      if (there.known && there.value <= highest) [far, temperature] = [middle, there.value];
      else close = middle;
    }
    return known({ gap: far, temperature });
  });
}
