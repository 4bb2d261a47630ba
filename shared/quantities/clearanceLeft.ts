import { type HeatClassKey, heatClasses } from '../trade/data/heat-classes.ts';
import { guardFactor2017 } from '../trade/metrology/conformity.ts';
import { sourceWords } from '../trade/source.ts';
import { freeGrowth } from '../trade/strength/free-growth.ts';
import { derive, type Known } from '../units/known.ts';

/** What uses up a gap, metres; what does not apply is 0. */
export interface GapUses {
  /** How much nearer a sampled surface may be than its samples. */
  readonly cover: number;
  readonly rock: number;
  readonly growth: number;
  /** Standard uncertainty of the gap. */
  readonly uncertainty: number;
}

/** What of a gap can be counted on, and the guard band taken off, metres. */
export interface GapLeft {
  readonly left: number;
  readonly guard: number;
}

/** A gap less all that can use it up and a guard band of 1.65 standard uncertainties (one-sided 95 %, ISO 14253-1:2017, from memory). */
export function gapLeft(gap: number, uses: GapUses): GapLeft {
  const guard = guardFactor2017 * uses.uncertainty;
  return { left: gap - uses.cover - uses.rock - uses.growth - guard, guard };
}

/** Temperature the header was drawn and the bay scanned at, K. */
const COLD = 293.15;

/** What a hot part does to a gap: growth over a length (m) at a temperature (K), by its mean expansion (1/K). */
export interface HotUses extends Omit<GapUses, 'growth'> {
  readonly length: number;
  readonly temperature: number;
  readonly expansion: number;
}

/** A gap as gapLeft leaves it when the part is hot, and the growth that was taken off, metres; unknown outside the formula's range. */
export function hotGapLeft(gap: number, { length, temperature, expansion, ...uses }: HotUses): Known<HotGapLeft> {
  const growth = freeGrowth.evaluate({ expansion, length, temperature, referenceTemperature: COLD });
  return derive({ growth }, (v) => {
    // Colder than it was drawn, a part shrinks: that is no reason to count on more room.
    const grown = Math.max(0, v.growth);
    return { ...gapLeft(gap, { ...uses, growth: grown }), growth: grown };
  });
}

/** See {@link hotGapLeft}. */
export interface HotGapLeft extends GapLeft {
  readonly growth: number;
}

/** Clearance a heat class asks for, metres, and where that comes from in words. */
export function clearanceOf(heatClass: HeatClassKey): { readonly clearance: number; readonly note: string } {
  const { clearance, source } = heatClasses[heatClass];
  return { clearance, note: `${heatClass}: ${sourceWords(source)}` };
}
