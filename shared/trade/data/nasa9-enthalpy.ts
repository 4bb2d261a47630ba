import type { Species } from './nasa9.ts';

/**
 * Integration constant b1 of the NASA nine-coefficient fits, K: below 1000 K, from 1000 K. Same records and source as the
 * heat capacity fits (NASA TP-2002-211556); b1 sets the enthalpy so that it holds the heat of formation at 298.15 K.
 */
export const enthalpyConstants: Readonly<Record<Species, readonly [number, number]>> = {
  CO2: [-45281.9846, -39083.5059],
  CO: [-13031.31878, -2466.261084],
  H2O: [-33039.7431, -13842.86509],
  H2: [2682.484665, 5339.82441],
  O2: [-3391.45487, -16890.10929],
  N2: [710.846086, 12832.10415],
};
