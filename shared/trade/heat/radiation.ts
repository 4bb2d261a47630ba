import { type Known, known } from '../../units/known.ts';
import { type Limits, outsideLimits } from '../data/validity.ts';

/** Radiation constant sigma of a black body, W/(m2.K4), exact in the SI of 2019. */
export const stefanBoltzmann = 5.670374419e-8;

const temperature = { range: [1, 3000], unit: 'temperature' } as const;
const share = { range: [0, 1], unit: 'share' } as const;

const fluxLimits: Limits<'emissivity' | 'surface' | 'surroundings'> = {
  emissivity: share,
  surface: temperature,
  surroundings: temperature,
};

/** Net heat a grey surface radiates to large surroundings, W/m2; temperatures in K, negative when it is the colder one. Source: T^4 law of the black body. */
export function radiantFlux(emissivity: number, surface: number, surroundings: number): Known<number> {
  const outside = outsideLimits('radiant flux', fluxLimits, { emissivity, surface, surroundings });
  return outside ?? known(emissivity * stefanBoltzmann * (surface ** 4 - surroundings ** 4));
}

const plateLimits: Limits<'hot' | 'cold' | 'hotEmissivity' | 'coldEmissivity'> = {
  hot: temperature,
  cold: temperature,
  hotEmissivity: { range: [0.001, 1], unit: 'share' },
  coldEmissivity: { range: [0.001, 1], unit: 'share' },
};

/** Net heat between two large parallel grey plates (view factor 1), W/m2; temperatures in K. Source: any heat transfer text (from memory). */
export function plateFlux(
  hot: { readonly temperature: number; readonly emissivity: number },
  cold: { readonly temperature: number; readonly emissivity: number },
): Known<number> {
  const outside = outsideLimits('plate flux', plateLimits, {
    hot: hot.temperature,
    cold: cold.temperature,
    hotEmissivity: hot.emissivity,
    coldEmissivity: cold.emissivity,
  });
  if (outside) return outside;
  const exchange = stefanBoltzmann * (hot.temperature ** 4 - cold.temperature ** 4);
  return known(exchange / (1 / hot.emissivity + 1 / cold.emissivity - 1));
}

/** What shines on a neighbour: a hot body at `temperature` (K) filling the share `viewFactor` of its sight, the rest at `ambient` (K). */
export interface Sight {
  readonly viewFactor: number;
  readonly emissivity: number;
  readonly temperature: number;
  readonly ambient: number;
  /** Share of the hot body's radiation a shield lets through; 1 without a shield. */
  readonly shieldRatio: number;
}

const sightLimits: Limits<keyof Sight> = {
  viewFactor: share,
  emissivity: share,
  temperature,
  ambient: temperature,
  shieldRatio: share,
};

/**
 * Irradiation of a small neighbour, W/m2: G = F e s sigma T^4 + (1 - F e s) sigma T_a^4, s the shield ratio. With a perfect shield it
 * falls to that of the surroundings, not below. Source: own, grey bodies in large surroundings.
 */
export function irradiation(sight: Sight): Known<number> {
  const outside = outsideLimits('irradiation', sightLimits, { ...sight });
  if (outside) return outside;
  const seen = sight.viewFactor * sight.emissivity * sight.shieldRatio;
  return known(stefanBoltzmann * (seen * sight.temperature ** 4 + (1 - seen) * sight.ambient ** 4));
}
