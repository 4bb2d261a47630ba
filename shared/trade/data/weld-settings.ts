import type { Source } from '../source.ts';

/** A band, low to high. */
export type Span = readonly [low: number, high: number];

/** A row of the start chart for steel and stainless, electrode negative, argon; m, A, m3/s. */
export interface StartSettings {
  readonly wall: Span;
  readonly current: Span;
  readonly tungsten: number;
  readonly filler: Span;
  readonly cup: Span;
  readonly flow: Span;
}

const mm = 1e-3;
const cubicFeetPerHour = 0.3048 ** 3 / 3600;
const start = (
  wall: Span,
  current: Span,
  rods: readonly [tungsten: number, fillerLow: number, fillerHigh: number],
  gas: readonly [cupLow: number, cupHigh: number, flowLow: number, flowHigh: number],
): StartSettings => ({
  wall: [wall[0] * mm, wall[1] * mm],
  current,
  tungsten: rods[0] * mm,
  filler: [rods[1] * mm, rods[2] * mm],
  cup: [gas[0], gas[1]],
  flow: [gas[2] * cubicFeetPerHour, gas[3] * cubicFeetPerHour],
});

/** Start settings by wall. */
export const startSettings: readonly StartSettings[] = [
  start([0.51, 1.02], [15, 50], [1.6, 1.6, 1.6], [4, 5, 10, 15]),
  start([1.02, 1.52], [40, 80], [1.6, 1.6, 1.6], [5, 6, 12, 18]),
  start([1.52, 2.36], [60, 110], [2.4, 1.6, 2.4], [6, 7, 15, 20]),
  start([2.36, 3.18], [90, 150], [2.4, 2.4, 2.4], [7, 8, 15, 25]),
];
/** Where {@link startSettings} come from. */
export const startSettingsSource: Source = { document: 'welding supplier reference chart', trust: 'excerpt' };

/** Closed-butt current of thin sheet: rows of [thickness m, A]. */
export const thinSheetCurrent: Readonly<Record<'stainless' | 'mild-steel', readonly Span[]>> = {
  stainless: [
    [0.8 * mm, 20],
    [1 * mm, 25],
    [1.2 * mm, 35],
    [1.5 * mm, 40],
  ],
  'mild-steel': [
    [2 * mm, 60],
    [3 * mm, 90],
  ],
};
/** Where {@link thinSheetCurrent} comes from. */
export const thinSheetSource: Source = {
  document: 'public thin-sheet table for tungsten-arc welding',
  trust: 'excerpt',
  note: 'column order inferred: headings were lost; fillet 20 to 25 % more, open root 8 to 20 % less',
};

/** Share of the thumb rule to start with on a closed butt of stainless or 625. Source: own, from the two tables above. */
export const startShare: Span = [0.65, 0.8];

/** Current a tungsten carries, electrode negative: rows of [diameter m, least A, greatest A]. Source: public page table (excerpt). */
export const tungstenCurrents: readonly (readonly [diameter: number, least: number, greatest: number])[] = [
  [1 * mm, 5, 60],
  [1.6 * mm, 20, 100],
  [2.4 * mm, 80, 180],
];

/** Filler diameter by wall: rows of [wall, filler], m, not thicker than the wall. Source: common practice, the 1.0 / 1.6 split read in a table. */
export const fillerDiameters: readonly (readonly [wall: Span, filler: Span])[] = [
  [
    [0.8 * mm, 1 * mm],
    [0.9 * mm, 1 * mm],
  ],
  [
    [1 * mm, 1.5 * mm],
    [1 * mm, 1.2 * mm],
  ],
  [
    [1.5 * mm, 2.5 * mm],
    [1.2 * mm, 1.6 * mm],
  ],
  [
    [2.5 * mm, 3 * mm],
    [1.6 * mm, 2.4 * mm],
  ],
];

/** Bore of gas cups as printed: rows of [number, m]. Source: equipment manual (excerpt for 4 to 10, memory for 12). */
export const cupBores: readonly (readonly [cup: number, bore: number])[] = [
  [4, 6.4 * mm],
  [5, 7.9 * mm],
  [6, 9.5 * mm],
  [7, 11.1 * mm],
  [8, 12.7 * mm],
  [10, 15.9 * mm],
  [12, 19.1 * mm],
];

/** Torch heads for an access check; m and rad. Low and high of what is made: measure the real torch. */
export interface TorchClass {
  readonly headDiameter: Span;
  readonly cupDiameter: Span;
  readonly cupLength: Span;
  /** Mouth of the cup to the top of a short or long cap. */
  readonly shortCap: Span;
  readonly longCap: Span;
  readonly neckDiameter: Span;
  readonly handleDiameter: Span;
  readonly handleLength: Span;
  readonly hoseBend: number;
}
/** Torch classes by size. Source: memory, doubtful to 15 mm: no drawing was found. */
export const torchClasses: Readonly<Record<'small' | 'standard', TorchClass>> = {
  small: {
    headDiameter: [20 * mm, 24 * mm],
    cupDiameter: [13 * mm, 22 * mm],
    cupLength: [22 * mm, 32 * mm],
    shortCap: [65 * mm, 85 * mm],
    longCap: [150 * mm, 180 * mm],
    neckDiameter: [12 * mm, 18 * mm],
    handleDiameter: [18 * mm, 22 * mm],
    handleLength: [150 * mm, 200 * mm],
    hoseBend: 60 * mm,
  },
  standard: {
    headDiameter: [25 * mm, 32 * mm],
    cupDiameter: [15 * mm, 30 * mm],
    cupLength: [40 * mm, 48 * mm],
    shortCap: [95 * mm, 120 * mm],
    longCap: [200 * mm, 240 * mm],
    neckDiameter: [16 * mm, 22 * mm],
    handleDiameter: [24 * mm, 36 * mm],
    handleLength: [180 * mm, 220 * mm],
    hoseBend: 100 * mm,
  },
};
