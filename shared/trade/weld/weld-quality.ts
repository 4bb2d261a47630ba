import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** Quality levels, strictest last. */
export const qualityLevels = ['D', 'C', 'B'] as const;
/** One of {@link qualityLevels}. */
export type QualityLevel = (typeof qualityLevels)[number];

/** Imperfections with a limit here, by what they are; the number is that of ISO 6520-1. */
export const imperfections = {
  crack: '100',
  'incomplete-root': '4021',
  undercut: '5011',
  'shrinkage-groove': '5013',
  'excess-cap': '502',
  'excess-penetration': '504',
  'step-plate': '507',
  'step-round': '507',
  'unfilled-groove': '511',
  'root-concavity': '515',
  'surface-pore': '2017',
} as const;
/** One of {@link imperfections}. */
export type Imperfection = keyof typeof imperfections;

/** Greatest size, m (0: not permitted), and whether it may only occur over short lengths (25 mm in any 100 mm). */
export interface QualityLimit {
  readonly limit: number;
  readonly shortOnly: boolean;
}
/** Wall and, for cap and penetration, width of the bead, m. */
export interface WeldSize {
  readonly wall: number;
  readonly beadWidth: number;
}

/** The three levels D, C, B; `null` stands for not permitted. */
type Levels = readonly [QualityLimit | null, QualityLimit | null, QualityLimit | null];
const mm = 1e-3;
const most = (limit: number): QualityLimit => ({ limit, shortOnly: false });
const short = (limit: number): QualityLimit => ({ limit, shortOnly: true });
const none: Levels = [null, null, null];

/** Each row at a wall `t` and a bead width `b`, m; `thin` up to 3 mm. */
const rows: Readonly<Record<Imperfection, (t: number, b: number, thin: boolean) => Levels>> = {
  crack: () => none,
  'incomplete-root': (t) => [short(Math.min(0.2 * t, 2 * mm)), null, null],
  undercut: (t, _b, thin) =>
    thin
      ? [short(0.2 * t), short(0.1 * t), null]
      : [most(Math.min(0.2 * t, 1 * mm)), most(Math.min(0.1 * t, 0.5 * mm)), most(Math.min(0.05 * t, 0.5 * mm))],
  'shrinkage-groove': (t) => [most(0.2 * mm + 0.1 * t), short(0.1 * t), null],
  'excess-cap': (_t, b) => [
    most(Math.min(1 * mm + 0.25 * b, 10 * mm)),
    most(Math.min(1 * mm + 0.15 * b, 7 * mm)),
    most(Math.min(1 * mm + 0.1 * b, 5 * mm)),
  ],
  'excess-penetration': (_t, b, thin) =>
    thin
      ? [most(1 * mm + 0.6 * b), most(1 * mm + 0.3 * b), most(1 * mm + 0.1 * b)]
      : [
          most(Math.min(1 * mm + b, 5 * mm)),
          most(Math.min(1 * mm + 0.6 * b, 4 * mm)),
          most(Math.min(1 * mm + 0.2 * b, 3 * mm)),
        ],
  'step-plate': (t, _b, thin) =>
    thin
      ? [most(0.2 * mm + 0.25 * t), most(0.2 * mm + 0.15 * t), most(0.2 * mm + 0.1 * t)]
      : [most(Math.min(0.25 * t, 5 * mm)), most(Math.min(0.15 * t, 4 * mm)), most(Math.min(0.1 * t, 3 * mm))],
  'step-round': (t) => [
    most(Math.min(0.5 * t, 4 * mm)),
    most(Math.min(0.5 * t, 3 * mm)),
    most(Math.min(0.5 * t, 2 * mm)),
  ],
  'unfilled-groove': (t) => [short(0.25 * t), short(0.1 * t), null],
  'root-concavity': (t) => [most(0.2 * mm + 0.1 * t), short(0.1 * t), null],
  'surface-pore': (t) => [short(0.3 * t), null, null],
};

/** Rows whose limits are given for walls up to 3 mm only. */
const thinOnly: readonly Imperfection[] = ['shrinkage-groove', 'unfilled-groove', 'root-concavity', 'surface-pore'];

const limits: Readonly<Record<keyof WeldSize, Limit>> = {
  wall: ['length', 0.5e-3, 20e-3],
  beadWidth: ['length', 0, 30e-3],
};

/**
 * Greatest size of an imperfection at a quality level. Steel, nickel and titanium, wall 0.5 to 20 mm (some rows to 3 mm: contradiction above).
 * Source: ISO 5817 (2007 and 2014 texts read in excerpts; 507, 511 and 515 from memory; 2017 doubtful); 2023 is current: confirm.
 */
export function weldQualityLimit(of: Imperfection, level: QualityLevel, size: WeldSize): Known<QualityLimit> {
  const refused = outsideLimits('weld-quality', size, limits);
  if (refused) return refused;
  const thin = size.wall <= 3 * mm;
  if (!thin && thinOnly.includes(of))
    return contradiction(
      `weld-quality: expected a wall of at most 3 mm for ${of}, got ${size.wall} m: that row was not found`,
    );
  const found = rows[of](size.wall, size.beadWidth, thin)[qualityLevels.indexOf(level)];
  return known(found ?? { limit: 0, shortOnly: false });
}

/** Greatest total length, m, of "short" imperfections in a weld of `length` (m): 25 mm in any 100 mm, or a quarter of a shorter weld. */
export function shortLengthLimit(length: number): Known<number> {
  return (
    outsideLimits('short-length', { length }, { length: ['length', 0, 100] }) ?? known(Math.min(0.25 * length, 25 * mm))
  );
}
