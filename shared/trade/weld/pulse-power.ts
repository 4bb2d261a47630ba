import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';
import { pulseMeanCurrent } from './pulse-mean-current.ts';

/** A rectangular pulse: currents in A, voltages in V, share of the time at peak. */
export interface Pulse {
  readonly peak: number;
  readonly background: number;
  readonly peakVoltage: number;
  readonly backgroundVoltage: number;
  readonly duty: number;
}
/** Mean current (A) and voltage (V), true mean power (W), and how much of it mean times mean misses. */
export interface PulsePower {
  readonly meanCurrent: number;
  readonly meanVoltage: number;
  readonly power: number;
  readonly missedShare: number;
}

const voltage: Limit = ['voltage', 1, 60];

/** True power of a pulsed arc: D U_p I_p + (1 - D) U_b I_b. Source: own, definition of mean power. */
export function pulsePower(pulse: Pulse): Known<PulsePower> {
  const refused = outsideLimits(
    'pulse-power',
    { peakVoltage: pulse.peakVoltage, backgroundVoltage: pulse.backgroundVoltage },
    { peakVoltage: voltage, backgroundVoltage: voltage },
  );
  if (refused) return refused;
  const mean = pulseMeanCurrent.evaluate(pulse);
  if (!mean.known) return mean;
  if (pulse.background > pulse.peak)
    return contradiction(
      `pulse-power: expected a background at or below the peak ${pulse.peak} A, got ${pulse.background} A`,
    );
  const { duty, peak, background, peakVoltage, backgroundVoltage } = pulse;
  const meanVoltage = duty * peakVoltage + (1 - duty) * backgroundVoltage;
  const power = duty * peakVoltage * peak + (1 - duty) * backgroundVoltage * background;
  const missedShare = power > 0 ? 1 - (meanVoltage * mean.value) / power : 0;
  return known({ meanCurrent: mean.value, meanVoltage, power, missedShare });
}

/**
 * Heat per length, J/m, of a waveform-controlled arc from its mean `power` (W), arc-on `time` (s) and `length` (m) of seam; no efficiency in
 * it. Source: ASME BPVC IX QW-409.1(c), instantaneous power form (memory).
 */
export function arcEnergyFromPower(power: number, time: number, length: number): Known<number> {
  const refused = outsideLimits(
    'arc-energy-from-power',
    { power, time, length },
    {
      power: ['power', 0, 60000],
      time: ['time', 0.1, 1e5],
      length: ['length', 1e-3, 100],
    },
  );
  return refused ?? known((power * time) / length);
}

/** Heat per length, J/m, from the arc `energy` (J, up to 1 GJ) a source integrated over a `length` (m) of seam. Source: ASME BPVC IX QW-409.1(c), energy form (memory). */
export function arcEnergyFromEnergy(energy: number, length: number): Known<number> {
  const limits: Readonly<Record<'energy' | 'length', Limit>> = { energy: ['J', 0, 1e9], length: ['length', 1e-3, 100] };
  return outsideLimits('arc-energy-from-energy', { energy, length }, limits) ?? known(energy / length);
}
