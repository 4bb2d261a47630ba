import type { Point } from '../interpolation.ts';
import type { Source } from '../source.ts';

const degree = Math.PI / 180;

/** Where {@link idelchikMitres} comes from. */
export const idelchikMitreSource: Source = {
  document: 'Idelchik, as in Blevins, Applied Fluid Dynamics Handbook 1984',
  clause: 'single mitre bends',
  trust: 'excerpt',
  note: 'read in an open fluid mechanics library (fluids, MIT); the Reynolds range is an own choice',
};
/** Loss coefficient of a single mitre at Re 2e5 by deflection, rad. */
export const idelchikMitres: readonly Point[] = [
  [10 * degree, 0.025],
  [20 * degree, 0.055],
  [30 * degree, 0.1],
  [40 * degree, 0.2],
  [50 * degree, 0.35],
  [60 * degree, 0.5],
  [70 * degree, 0.7],
  [80 * degree, 0.9],
  [90 * degree, 1.1],
  [120 * degree, 1.5],
];

/** Where {@link millerMitres} comes from. */
export const millerMitreSource: Source = {
  document: 'Miller, Internal Flow Systems, 2nd ed. 1990',
  clause: 'mitre bend chart at Re 1e6',
  trust: 'excerpt',
  note: 'read as digitised by an open fluid mechanics library (fluids, MIT)',
};
/** Loss coefficient of a single mitre at Re 1e6 by deflection, rad. */
export const millerMitres: readonly Point[] = [
  [5 * degree, 0.021],
  [7.5 * degree, 0.023],
  [10 * degree, 0.027],
  [15 * degree, 0.038],
  [22.5 * degree, 0.069],
  [30 * degree, 0.118],
  [45 * degree, 0.285],
  [60 * degree, 0.508],
  [90 * degree, 1.125],
];
