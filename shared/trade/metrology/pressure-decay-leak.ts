import { type Known, known } from '../../units/known.ts';
import { inconsistent, type Limits, outsideLimits } from '../data/validity.ts';

/** Readings of a pressure decay test: m3, absolute Pa, K, s. */
export interface PressureDecay {
  readonly volume: number;
  readonly startPressure: number;
  readonly endPressure: number;
  readonly startTemperature: number;
  readonly endTemperature: number;
  readonly duration: number;
}
/** Leak rate in Pa.m3/s (1 Pa.m3/s = 10 mbar.L/s) at the start temperature, and what the readings owe to temperature alone. */
export interface Leak {
  readonly rate: number;
  /** Pressure change that the temperature change alone would give, Pa. */
  readonly thermalChange: number;
  /** Pressure change of one kelvin, Pa/K. */
  readonly perKelvin: number;
}

const limits: Limits<keyof PressureDecay> = {
  volume: { range: [1e-6, 1], unit: 'volume' },
  startPressure: { range: [1e3, 2e6], unit: 'pressure' },
  endPressure: { range: [0, 2e6], unit: 'pressure' },
  startTemperature: { range: [250, 400], unit: 'temperature' },
  endTemperature: { range: [250, 400], unit: 'temperature' },
  duration: { range: [1, 1e6], unit: 'time' },
};

/**
 * Leak rate from the fall of pressure in a closed volume, the end pressure brought back to the start temperature (ideal gas). A
 * corrected pressure that rises is inconsistent: the readings cannot be of a leak out. Source: pressure change method, EN 13184 (from memory).
 */
export function pressureDecayLeak(decay: PressureDecay): Known<Leak> {
  const outside = outsideLimits('pressure decay', limits, { ...decay });
  if (outside) return outside;
  const { volume, startPressure, endPressure, startTemperature, endTemperature, duration } = decay;
  const corrected = (endPressure * startTemperature) / endTemperature;
  // A reading is not better than a few parts in 1e12; below that a rise is rounding.
  if (corrected > startPressure * (1 + 1e-12))
    return inconsistent(
      `pressure decay: expected an end pressure up to ${startPressure} Pa at the start temperature, got ${corrected} Pa`,
    );
  const perKelvin = startPressure / startTemperature;
  return known({
    rate: (volume * Math.max(startPressure - corrected, 0)) / duration,
    thermalChange: perKelvin * (endTemperature - startTemperature),
    perKelvin,
  });
}
