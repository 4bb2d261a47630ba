/** Farther from the header than this a point of a scan is not told how far, metres (own: what the widest usual gap asks for, with room). */
export const nearnessCap = 0.06;
/** Level of a point at the cap or beyond it; see {@link nearnessLevel}. */
export const NEARNESS_FAR = 255;
/** Steps from contact to the cap. */
const STEPS = 254;

/** A distance (metres) as one byte: 0 in contact or inside, steps of a 254th of the cap, {@link NEARNESS_FAR} at the cap, beyond it and for what is no number. */
export function nearnessLevel(distance: number, cap: number): number {
  if (!(distance < cap)) return NEARNESS_FAR;
  return Math.max(0, Math.round((STEPS * distance) / cap));
}
