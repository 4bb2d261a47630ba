import type { Source } from '../source.ts';
import type { Species } from './nasa9.ts';

/** ln(viscosity in micropoise) = a ln T + b/T + c/T^2 + d, T in K; 1 micropoise = 1e-7 Pa.s. */
export interface ViscosityFit {
  /** Closed range, K. */
  readonly range: readonly [number, number];
  readonly coefficients: readonly [number, number, number, number];
}

/** Where the viscosity fits come from. */
export const viscositySource: Source = {
  document: 'NASA TM-4647 (transport properties), as distributed in the NASA CEA data file trans.inp',
  clause: 'pure-species viscosity records',
  trust: 'excerpt',
  note: 'the H2O fit starts at 373.2 K, which sets the lower end for every wet exhaust',
};

/** Fits by species, lower range first. CO has the fit of N2 in the source. */
export const viscosityFits: Readonly<Record<Species, readonly [ViscosityFit, ViscosityFit]>> = {
  CO2: [
    { range: [200, 1000], coefficients: [0.51137258, -229.51321, 13710.678, 2.7075538] },
    { range: [1000, 5000], coefficients: [0.63978285, -42.637076, -15522.605, 1.6628843] },
  ],
  CO: [
    { range: [200, 1000], coefficients: [0.62526577, -31.779652, -1640.7983, 1.7454992] },
    { range: [1000, 5000], coefficients: [0.87395209, 561.52222, -173948.09, -0.39335958] },
  ],
  H2O: [
    { range: [373.2, 1073.2], coefficients: [0.50019557, -697.12796, 88163.892, 3.0836508] },
    { range: [1073.2, 5000], coefficients: [0.58988538, -537.69814, 54263.513, 2.3386375] },
  ],
  H2: [
    { range: [200, 1000], coefficients: [0.74553182, 43.555109, -3257.934, 0.13556243] },
    { range: [1000, 5000], coefficients: [0.96730605, 679.31897, -210251.79, -1.8251697] },
  ],
  O2: [
    { range: [200, 1000], coefficients: [0.6091618, -52.244847, -599.74009, 2.0410801] },
    { range: [1000, 5000], coefficients: [0.72216486, 175.50839, -57974.816, 1.0901044] },
  ],
  N2: [
    { range: [200, 1000], coefficients: [0.62526577, -31.779652, -1640.7983, 1.7454992] },
    { range: [1000, 5000], coefficients: [0.87395209, 561.52222, -173948.09, -0.39335958] },
  ],
};
