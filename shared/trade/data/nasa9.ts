import type { Source } from '../source.ts';

/** Exhaust species carried by the gas model; N2 is the apparent nitrogen of air, argon included. */
export const species = ['CO2', 'CO', 'H2O', 'H2', 'O2', 'N2'] as const;
/** One of {@link species}. */
export type Species = (typeof species)[number];

/** cp/R = a1 T^-2 + a2 T^-1 + a3 + a4 T + a5 T^2 + a6 T^3 + a7 T^4, T in K. */
export type HeatCapacityCoefficients = readonly [number, number, number, number, number, number, number];

/** Thermodynamic row of one species: NASA nine-coefficient fit (the seven that give cp) over two temperature ranges. */
export interface ThermoRow {
  /** Molar mass, kg/mol. */
  readonly molarMass: number;
  /** 200 to 1000 K. */
  readonly low: HeatCapacityCoefficients;
  /** 1000 to 6000 K. */
  readonly high: HeatCapacityCoefficients;
}

/** Where the heat capacity fits come from. */
export const thermoSource: Source = {
  document: 'NASA TP-2002-211556, as distributed in the NASA CEA data file thermo.inp',
  clause: 'species records',
  trust: 'excerpt',
  note: 'coefficients copied by program; molar masses from the same records',
};

/** Temperature where the two fits of {@link ThermoRow} meet, K. */
export const thermoBreak = 1000;
/** Range of the fits, K. */
export const thermoRange = [200, 6000] as const;
/** Molar gas constant, J/(mol.K): SI 2019 exact value. The report used 8.314510; the difference is 6e-6. */
export const molarGasConstant = 8.314462618;

/** NASA-9 rows by species. */
export const thermo: Readonly<Record<Species, ThermoRow>> = {
  CO2: {
    molarMass: 44.0095e-3,
    low: [49436.5054, -626.411601, 5.30172524, 0.002503813816, -2.127308728e-7, -7.68998878e-10, 2.849677801e-13],
    high: [117696.2419, -1788.791477, 8.29152319, -9.22315678e-5, 4.86367688e-9, -1.891053312e-12, 6.33003659e-16],
  },
  CO: {
    molarMass: 28.0101e-3,
    low: [14890.45326, -292.2285939, 5.72452717, -0.00817623503, 1.456903469e-5, -1.087746302e-8, 3.027941827e-12],
    high: [461919.725, -1944.704863, 5.91671418, -0.000566428283, 1.39881454e-7, -1.787680361e-11, 9.62093557e-16],
  },
  H2O: {
    molarMass: 18.01528e-3,
    low: [-39479.6083, 575.573102, 0.931782653, 0.00722271286, -7.34255737e-6, 4.95504349e-9, -1.336933246e-12],
    high: [1034972.096, -2412.698562, 4.64611078, 0.002291998307, -6.83683048e-7, 9.42646893e-11, -4.82238053e-15],
  },
  H2: {
    molarMass: 2.01588e-3,
    low: [40783.2321, -800.918604, 8.21470201, -0.01269714457, 1.753605076e-5, -1.20286027e-8, 3.36809349e-12],
    high: [560812.801, -837.150474, 2.975364532, 0.001252249124, -3.74071619e-7, 5.9366252e-11, -3.6069941e-15],
  },
  O2: {
    molarMass: 31.9988e-3,
    low: [-34255.6342, 484.700097, 1.119010961, 0.00429388924, -6.83630052e-7, -2.0233727e-9, 1.039040018e-12],
    high: [-1037939.022, 2344.830282, 1.819732036, 0.001267847582, -2.188067988e-7, 2.053719572e-11, -8.19346705e-16],
  },
  N2: {
    molarMass: 28.0134e-3,
    low: [22103.71497, -381.846182, 6.08273836, -0.00853091441, 1.384646189e-5, -9.62579362e-9, 2.519705809e-12],
    high: [587712.406, -2239.249073, 6.06694922, -0.00061396855, 1.491806679e-7, -1.923105485e-11, 1.061954386e-15],
  },
};
