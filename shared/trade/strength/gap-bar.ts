import { type Known, known } from '../../units/known.ts';
import { type Limit, outsideLimits } from '../limits.ts';

/** A bar that may grow by `gap` before it meets a rigid stop; SI. */
export interface GapBar {
  /** Cold length, m. */
  readonly length: number;
  /** m. */
  readonly gap: number;
  /** Section, m2. */
  readonly area: number;
  /** Pa. */
  readonly modulus: number;
  /** Mean coefficient between the two temperatures, 1/K. */
  readonly expansion: number;
  /** Hot, K. */
  readonly temperature: number;
  /** Without stress, K. */
  readonly referenceTemperature: number;
}
/** Free growth (m), and what the stop holds back: stress (Pa) and force (N), both 0 while the gap is open. */
export interface GapBarLoad {
  readonly growth: number;
  readonly stress: number;
  readonly force: number;
}

const limits: Readonly<Record<keyof GapBar, Limit>> = {
  length: ['length', 1e-3, 10],
  gap: ['length', 0, 0.1],
  area: ['area', 1e-8, 1],
  modulus: ['stress', 1e9, 3e11],
  expansion: ['expansion', 0, 4e-5],
  temperature: ['temperature', 200, 1500],
  referenceTemperature: ['temperature', 200, 1500],
};

/** Thermal load of a bar that closes a gap, if it stays elastic. Source: Bhandari, machine design textbook, example 4.22 (excerpt). */
export function gapBar(bar: GapBar): Known<GapBarLoad> {
  const refused = outsideLimits('gap-bar', bar, limits);
  if (refused) return refused;
  const growth = bar.expansion * bar.length * (bar.temperature - bar.referenceTemperature);
  const stress = (bar.modulus * Math.max(0, growth - bar.gap)) / bar.length;
  return known({ growth, stress, force: stress * bar.area });
}
