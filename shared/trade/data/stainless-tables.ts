import { alloys, type PropertyTable } from './alloys.ts';

const averages = 'alloy supplier comparison table of tensile strength at temperature';
const averageNote = 'averages, not minima';

/** Straight line the fit gives: k = a + 0.013 T(K), sampled at its ends because a straight line needs no more. */
const fitted = (at100: number, steel: string): PropertyTable => ({
  unit: 1,
  rows: [
    [20, at100 - 1.04],
    [100, at100],
    [500, at100 + 5.2],
    [900, at100 + 10.4],
  ],
  source: {
    document: `steel maker's figures for ${steel}, as fitted in a public property library`,
    clause: 'conductivity at 100 and 500 C',
    trust: 'excerpt',
    note: 'below 100 and above 500 C the straight line is carried on (own)',
  },
});
const low = fitted(16.2, '304 and 316');
const stabilised = fitted(16.3, '347');

const heatCapacity: PropertyTable = {
  unit: 1,
  rows: [
    [20, 500],
    [100, 500],
    [400, 560],
    [600, 590],
    [800, 630],
  ],
  source: {
    document: 'steel maker data for austenitic stainless',
    trust: 'uncertain',
    note: '0 to 100 C read in an excerpt, the rest from memory and doubtful',
  },
};

const poisson304: PropertyTable = {
  unit: 1,
  rows: [
    [150, 0.28],
    [260, 0.3],
    [370, 0.32],
    [480, 0.28],
    [595, 0.29],
    [705, 0.28],
    [815, 0.25],
  ],
  source: { document: 'stainless specialty table of high-temperature properties', trust: 'excerpt' },
};

const molybdenumExpansion: PropertyTable = {
  unit: 1e-6,
  rows: [
    [100, 16],
    [200, 16.2],
    [316, 16.5],
    [427, 17],
    [538, 17.5],
    [649, 18.5],
    [760, 19],
    [871, 19.5],
  ],
  source: {
    document: 'AISI / ASM tables of stainless steels',
    clause: 'mean expansion from 20 C',
    trust: 'memory',
    note: '760 and 871 C are doubtful',
  },
};

/** Printed average tensile strengths at these temperatures, MPa. */
const averageTensile = (values: readonly [number, number, number, number, number, number, number, number]) => {
  const celsius = [20, 93, 204, 316, 427, 538, 649, 760] as const;
  return celsius.map((t, i): readonly [number, number] => [t, values[i] ?? Number.NaN]);
};

const tensile = (rows: PropertyTable['rows']): PropertyTable => ({
  unit: 1e6,
  rows,
  source: { document: averages, trust: 'excerpt', note: averageNote },
});
const tensile304L = averageTensile([546, 470, 451, 404, 398, 361, 290, 197]);

/**
 * A figure known at room temperature only; it is taken to hold to 40 C and no further.
 */
export const roomOnly = (value: number): PropertyTable['rows'] => [
  [20, value],
  [40, value],
];

/** The one density is used wherever the metal is used: heating changes it by about 5 %. */
export const anyTemperature = (value: number): PropertyTable['rows'] => [
  [20, value],
  [1000, value],
];

/** Austenitic stainless steels of headers, flanges and brackets. */
export const stainlessTables = {
  '304': {
    ...alloys['304'],
    tensile: {
      unit: 1e6,
      rows: tensile304L.map(([t, value]): readonly [number, number] => [t, (value * 515) / 546]),
      source: {
        document: 'own: 304L averages scaled to the 515 MPa minimum of ASTM A240',
        trust: 'own',
        note: 'lies below the printed 379 MPa at 540 C and 303 MPa at 650 C',
      },
    },
    conductivity: low,
    heatCapacity,
    poisson: poisson304,
  },
  '304L': {
    expansion: alloys['304'].expansion,
    modulus: alloys['304'].modulus,
    density: alloys['304'].density,
    yield: {
      unit: 1e6,
      rows: roomOnly(170),
      source: { document: 'ASTM A240, minimum', trust: 'memory', note: 'no hot figures found' },
    },
    tensile: tensile(tensile304L),
    conductivity: low,
    heatCapacity,
  },
  '316L': {
    expansion: molybdenumExpansion,
    modulus: alloys['304'].modulus,
    density: { unit: 1, rows: anyTemperature(7990), source: { document: 'maker data for 316', trust: 'excerpt' } },
    yield: {
      unit: 1e6,
      rows: [
        [20, 170],
        [100, 166],
        [200, 137],
        [300, 118],
        [400, 108],
        [500, 100],
        [550, 98],
        [650, 83.8],
      ],
      source: {
        document: 'EN 10028-7, minimum Rp0.2 of 1.4404; 20 C from ASTM A240',
        trust: 'memory',
        note: '650 C row: own, 98 MPa times 165/193, the ratio of typical yields of 316 at 650 and 540 C in a stainless maker table',
      },
    },
    tensile: tensile(averageTensile([544, 478, 441, 435, 430, 392, 321, 223])),
    conductivity: low,
    heatCapacity,
  },
  '321': {
    ...alloys['321'],
    tensile: tensile(averageTensile([579, 502, 427, 427, 427, 410, 314, 190])),
    conductivity: stabilised,
    heatCapacity,
  },
  '347': {
    expansion: alloys['321'].expansion,
    modulus: alloys['304'].modulus,
    density: {
      unit: 1,
      rows: anyTemperature(7960),
      source: { document: 'supplier data sheet for 347', trust: 'excerpt' },
    },
    yield: {
      unit: 1e6,
      rows: [
        [20, 205],
        [100, 176],
        [200, 157],
        [300, 136],
        [400, 125],
        [500, 119],
        [550, 118],
        [650, 115.5],
      ],
      source: {
        document: 'EN 10028-7, minimum Rp0.2 of 1.4541 taken for 347; 20 C from ASTM A240',
        trust: 'uncertain',
        note: '650 C row: own, 118 MPa times 138/141, the ratio of typical yields of 347; printed typical values are 141 at 540 and 138 at 650 C',
      },
    },
    tensile: tensile(averageTensile([600, 522, 450, 432, 426, 420, 372, 258])),
    conductivity: stabilised,
    heatCapacity,
  },
} as const;
