import type { Source } from '../source.ts';

/** Runner and flange alloys with hot properties. */
export const alloyKeys = ['304', '321', '625'] as const;
/** Key of a row of {@link alloys}. */
export type AlloyKey = (typeof alloyKeys)[number];

/** Property of an alloy as a function of metal temperature; SI unit in brackets. */
export type AlloyProperty =
  /** Mean expansion coefficient from 20 C to the temperature [1/K]. */
  | 'expansion'
  /** Modulus of elasticity [Pa]. */
  | 'modulus'
  /** Yield strength Rp0.2 [Pa]. */
  | 'yield'
  /** Density at room temperature [kg/m3]. */
  | 'density';

/** One tabulated property: rows of [temperature in degrees C as published, value in `unit`]. */
export interface PropertyTable {
  /** Multiplies the printed value to SI. */
  readonly unit: 1 | 1e-6 | 1e6 | 1e9;
  readonly rows: readonly (readonly [number, number])[];
  readonly source: Source;
}

const bulletin625 = 'maker bulletin SMC-063 for alloy 625 (UNS N06625)';
const asme2d = 'ASME BPVC II-D, table TM-1, group G (austenitic stainless)';
const stainless: PropertyTable = {
  unit: 1e9,
  rows: [
    [25, 195],
    [100, 189],
    [150, 186],
    [200, 183],
    [250, 179],
    [300, 176],
    [350, 172],
    [400, 169],
    [450, 165],
    [500, 160],
    [550, 156],
    [600, 151],
    [650, 146],
    [700, 140],
  ],
  source: { document: asme2d, clause: 'p. 785', trust: 'excerpt' },
};
/** The one density holds wherever the alloy is used: heating changes it by about 5 %. */
const constant = (value: number): PropertyTable['rows'] => [
  [20, value],
  [1000, value],
];

/**
 * Alloy tables. Yield of 304 and 321 is the EN minimum to 550 C; the 650 C row scales it by the published ratio of typical yields.
 * Yield of 625 is typical, not minimum, and from memory.
 */
export const alloys: Readonly<Record<AlloyKey, Readonly<Record<AlloyProperty, PropertyTable>>>> = {
  '304': {
    expansion: {
      unit: 1e-6,
      rows: [
        [100, 17.2],
        [200, 17.5],
        [316, 17.8],
        [427, 18.1],
        [538, 18.4],
        [649, 18.7],
        [760, 19.2],
        [871, 19.5],
      ],
      source: {
        document: 'AISI / ASM tables of stainless steels',
        clause: 'mean expansion from 20 C',
        trust: 'memory',
      },
    },
    modulus: stainless,
    yield: {
      unit: 1e6,
      rows: [
        [20, 205],
        [100, 157],
        [200, 127],
        [300, 110],
        [400, 98],
        [500, 92],
        [550, 90],
        [650, 79.8],
      ],
      source: {
        document: 'EN 10028-7, minimum Rp0.2 of 1.4301; 20 C from ASTM A240',
        trust: 'memory',
        note: '650 C row: own, 90 MPa times 110/124, the ratio of typical yields at 650 and 540 C in a stainless maker table',
      },
    },
    density: { unit: 1, rows: constant(8030), source: { document: 'maker data for 304', trust: 'excerpt' } },
  },
  '321': {
    expansion: {
      unit: 1e-6,
      rows: [
        [100, 16.6],
        [200, 16.9],
        [316, 17.1],
        [427, 18],
        [538, 18.5],
        [649, 19.1],
        [760, 19.6],
        [871, 20],
        [1000, 20.5],
      ],
      source: {
        document: 'supplier data sheets for 321',
        clause: 'mean expansion from 20 C',
        trust: 'memory',
        note: 'all rows read in an excerpt but 316 C, which is from memory',
      },
    },
    modulus: stainless,
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
        [650, 95.6],
      ],
      source: {
        document: 'EN 10028-7, minimum Rp0.2 of 1.4541; 20 C from ASTM A240',
        trust: 'memory',
        note: '650 C row: own, 118 MPa times 145/179, the ratio of typical yields at 650 and 540 C in a stainless maker table',
      },
    },
    density: { unit: 1, rows: constant(7920), source: { document: 'supplier data sheet for 321', trust: 'excerpt' } },
  },
  '625': {
    expansion: {
      unit: 1e-6,
      rows: [
        [93, 12.8],
        [204, 13.1],
        [316, 13.3],
        [427, 13.7],
        [538, 14],
        [649, 14.8],
        [760, 15.3],
        [871, 15.8],
        [927, 16.2],
      ],
      source: {
        document: bulletin625,
        clause: 'mean expansion from 21 C',
        trust: 'excerpt',
        note: 'read in a transcription',
      },
    },
    modulus: {
      unit: 1e9,
      rows: [
        [21, 207.5],
        [93, 204.1],
        [204, 197.9],
        [316, 191.7],
        [427, 185.5],
        [538, 178.6],
        [649, 170.3],
        [760, 160.6],
        [871, 147.5],
      ],
      source: {
        document: bulletin625,
        clause: 'table 4, annealed, tension',
        trust: 'memory',
        note: '21 and 871 C read in an excerpt, the rows between from memory',
      },
    },
    yield: {
      unit: 1e6,
      rows: [
        [21, 450],
        [538, 350],
        [649, 340],
        [760, 330],
        [816, 300],
        [871, 240],
        [982, 90],
      ],
      source: {
        document: bulletin625,
        clause: 'annealed, tensile curves',
        trust: 'uncertain',
        note: 'typical values read off curves from memory, not minima; printed 625 is not covered: test a coupon',
      },
    },
    density: { unit: 1, rows: constant(8440), source: { document: bulletin625, trust: 'excerpt' } },
  },
};
