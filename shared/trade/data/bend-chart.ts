import type { Source } from '../source.ts';

/** Where both charts come from. */
export const bendChartSource: Source = {
  document: 'Miller, Internal Flow Systems, 2nd ed. 1990',
  clause: 'smooth circular bend chart (loss coefficient at Re 1e6) and its Reynolds-number correction chart',
  trust: 'excerpt',
  note: 'read as digitised by an MIT-licensed open library, about +-0.01 on K; the 0 degree column is zero by definition (own)',
};

/** Deflection angles of the columns of {@link bendChart}, degrees. */
export const bendAngles = [0, 15, 30, 45, 60, 75, 90, 120, 150, 180] as const;

/**
 * Loss coefficient of a smooth bend on rho u^2/2 at Re = 1e6: bend friction included, long straight outlet.
 * Row: centreline radius over inside diameter, then one value for each of {@link bendAngles}.
 */
export const bendChart: readonly { readonly radiusRatio: number; readonly losses: readonly number[] }[] = [
  { radiusRatio: 0.75, losses: [0, 0.027, 0.067, 0.135, 0.227, 0.299, 0.387, 0.548, 0.644, 0.665] },
  { radiusRatio: 1, losses: [0, 0.025, 0.058, 0.1, 0.148, 0.203, 0.248, 0.268, 0.274, 0.287] },
  { radiusRatio: 1.25, losses: [0, 0.026, 0.059, 0.09, 0.129, 0.166, 0.206, 0.23, 0.237, 0.218] },
  { radiusRatio: 1.5, losses: [0, 0.029, 0.061, 0.088, 0.12, 0.15, 0.184, 0.205, 0.209, 0.203] },
  { radiusRatio: 2, losses: [0, 0.034, 0.064, 0.089, 0.112, 0.135, 0.16, 0.179, 0.183, 0.197] },
  { radiusRatio: 2.5, losses: [0, 0.038, 0.067, 0.092, 0.112, 0.132, 0.154, 0.176, 0.19, 0.201] },
  { radiusRatio: 3, losses: [0, 0.041, 0.07, 0.093, 0.115, 0.132, 0.155, 0.188, 0.209, 0.219] },
  { radiusRatio: 4, losses: [0, 0.046, 0.077, 0.099, 0.123, 0.141, 0.166, 0.215, 0.244, 0.271] },
  { radiusRatio: 5, losses: [0, 0.048, 0.081, 0.108, 0.133, 0.156, 0.183, 0.231, 0.272, 0.358] },
];

/** Reynolds numbers of the columns of {@link bendReynoldsChart}. */
export const bendReynolds = [1e4, 3e4, 1e5, 2e5, 5e5, 1e6] as const;

/** Multiplier on the loss coefficient below Re = 1e6, one row for each radius ratio; the 2 row holds for every larger ratio. */
export const bendReynoldsChart: readonly { readonly radiusRatio: number; readonly factors: readonly number[] }[] = [
  { radiusRatio: 1, factors: [2.18, 1.69, 1.24, 1.01, 1, 1] },
  { radiusRatio: 1.5, factors: [2.18, 1.76, 1.4, 1.23, 1, 1] },
  { radiusRatio: 2, factors: [2.18, 1.81, 1.48, 1.32, 1.13, 1.01] },
];
