import type { Point } from '../interpolation.ts';
import type { Source } from '../source.ts';

const degree = Math.PI / 180;
const crane = (clause: string): Source => ({
  document: 'Crane TP-410',
  clause,
  trust: 'excerpt',
  note: 'read in an open fluid mechanics library (fluids, MIT)',
});

/** Where {@link craneBendFactors} comes from. */
export const craneBendSource = crane('90 degree pipe bends; other angles by the bend formula');
/** Multiple of the fully turbulent friction factor by centreline radius over bore, 90 degree bend. */
export const craneBendFactors: readonly Point[] = [
  [1, 20],
  [1.5, 14],
  [2, 12],
  [3, 12],
  [4, 14],
  [6, 17],
  [8, 24],
  [10, 30],
  [12, 34],
  [14, 38],
  [16, 42],
  [20, 50],
];

/** Where {@link craneMitreFactors} comes from. */
export const craneMitreSource = crane('mitre bends');
/** Multiple of the fully turbulent friction factor by deflection of a single mitre, rad. */
export const craneMitreFactors: readonly Point[] = [
  [0, 2],
  [15 * degree, 4],
  [30 * degree, 8],
  [45 * degree, 15],
  [60 * degree, 25],
  [75 * degree, 40],
  [90 * degree, 60],
];

/** Where {@link junctionFactors} comes from. */
export const junctionSource = crane('converging tees and wyes');
/** Momentum factor F of a converging junction by the angle between branch and run, rad. */
export const junctionFactors: readonly Point[] = [
  [30 * degree, 1.74],
  [45 * degree, 1.41],
  [60 * degree, 1],
  [90 * degree, 0],
];
