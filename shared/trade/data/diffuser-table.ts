import type { Source } from '../source.ts';

/** Where {@link diffuserTable} comes from. */
export const diffuserSource: Source = {
  document: 'Idelchik, Handbook of Hydraulic Resistance, 4th ed. 2007',
  clause: 'conical diffusers',
  trust: 'excerpt',
  note: 'read in an open fluid mechanics library (fluids, MIT)',
};

/** Total cone angles of the columns of {@link diffuserTable}, degrees. */
export const diffuserAngles = [3, 6, 8, 10, 12, 14, 16, 20, 24, 30, 40, 60, 90, 180] as const;

/** Loss coefficient on the upstream head: area ratio smaller over larger, then one value for each of {@link diffuserAngles}. */
export const diffuserTable: readonly { readonly areaRatio: number; readonly losses: readonly number[] }[] = [
  { areaRatio: 0.2, losses: [0.02, 0.05, 0.07, 0.1, 0.12, 0.15, 0.17, 0.23, 0.3, 0.41, 0.59, 0.74, 0.7, 0.65] },
  { areaRatio: 0.3, losses: [0.02, 0.04, 0.05, 0.07, 0.09, 0.11, 0.13, 0.18, 0.23, 0.31, 0.4, 0.57, 0.54, 0.5] },
  { areaRatio: 0.4, losses: [0.01, 0.03, 0.04, 0.06, 0.07, 0.08, 0.1, 0.13, 0.17, 0.23, 0.33, 0.41, 0.39, 0.37] },
  { areaRatio: 0.5, losses: [0.01, 0.02, 0.03, 0.04, 0.05, 0.06, 0.07, 0.09, 0.12, 0.16, 0.23, 0.29, 0.28, 0.26] },
  { areaRatio: 0.6, losses: [0.01, 0.01, 0.02, 0.03, 0.03, 0.04, 0.05, 0.06, 0.08, 0.1, 0.15, 0.18, 0.17, 0.16] },
];
