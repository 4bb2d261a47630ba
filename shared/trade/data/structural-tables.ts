import type { PropertyTable } from './alloys.ts';
import { anyTemperature, roomOnly } from './stainless-tables.ts';

const titanium: PropertyTable = {
  unit: 1e-6,
  rows: [
    [100, 8.6],
    [200, 9],
    [316, 9.2],
    [427, 9.4],
    [538, 9.7],
    [649, 9.7],
  ],
  source: { document: 'handbook values for titanium', clause: 'mean expansion from 20 C', trust: 'memory' },
};
const hotTitanium = 'cold minimum times 0.7 at 315 C and 0.6 at 425 C, shares from memory and doubtful';
const scaledTitanium = (cold: number): PropertyTable['rows'] => [
  [20, cold],
  [315, 0.7 * cold],
  [425, 0.6 * cold],
];
const castHead = 'handbook values for cast A356 / 319 heads, T6';
const hotHead = 'low end of the printed band; 200 C row: 0.6 of it, share from memory and doubtful';

/** Titanium, mild steel and the cast aluminium of cylinder heads. */
export const structuralTables = {
  A356: {
    expansion: {
      unit: 1e-6,
      rows: [
        [100, 21.5],
        [200, 22.5],
        [300, 23.5],
      ],
      source: { document: castHead, clause: 'mean expansion from 20 C', trust: 'memory' },
    },
    modulus: { unit: 1e9, rows: roomOnly(72), source: { document: castHead, trust: 'memory' } },
    yield: {
      unit: 1e6,
      rows: [
        [20, 165],
        [200, 99],
      ],
      source: { document: castHead, trust: 'uncertain', note: hotHead },
    },
    tensile: {
      unit: 1e6,
      rows: [
        [20, 230],
        [200, 138],
      ],
      source: { document: castHead, trust: 'uncertain', note: hotHead },
    },
    conductivity: {
      unit: 1,
      rows: roomOnly(110),
      source: { document: castHead, trust: 'memory', note: 'low end of 110 to 150' },
    },
    heatCapacity: { unit: 1, rows: roomOnly(963), source: { document: castHead, trust: 'memory' } },
    density: {
      unit: 1,
      rows: anyTemperature(2680),
      source: { document: castHead, trust: 'memory', note: '2680 for A356, 2790 for 319' },
    },
  },
  'Ti-2': {
    expansion: titanium,
    modulus: {
      unit: 1e9,
      rows: roomOnly(103),
      source: { document: 'handbook values for titanium grade 2', trust: 'memory' },
    },
    yield: { unit: 1e6, rows: roomOnly(275), source: { document: 'titanium grade 2, minimum', trust: 'memory' } },
    tensile: { unit: 1e6, rows: roomOnly(345), source: { document: 'titanium grade 2, minimum', trust: 'memory' } },
    conductivity: {
      unit: 1,
      rows: roomOnly(16.4),
      source: { document: 'handbook values for titanium grade 2', trust: 'memory' },
    },
    heatCapacity: {
      unit: 1,
      rows: roomOnly(523),
      source: { document: 'handbook values for titanium grade 2', trust: 'memory' },
    },
    density: {
      unit: 1,
      rows: anyTemperature(4510),
      source: { document: 'handbook values for titanium grade 2', trust: 'memory' },
    },
  },
  'Ti-6Al-4V': {
    expansion: titanium,
    modulus: {
      unit: 1e9,
      rows: roomOnly(113.8),
      source: { document: 'public property file for Ti-6Al-4V', trust: 'excerpt' },
    },
    yield: {
      unit: 1e6,
      rows: scaledTitanium(828),
      source: { document: 'Ti-6Al-4V annealed, minimum', trust: 'uncertain', note: hotTitanium },
    },
    tensile: {
      unit: 1e6,
      rows: scaledTitanium(895),
      source: { document: 'Ti-6Al-4V annealed, minimum', trust: 'uncertain', note: hotTitanium },
    },
    conductivity: {
      unit: 1,
      rows: roomOnly(6.7),
      source: { document: 'handbook values for Ti-6Al-4V', trust: 'memory' },
    },
    heatCapacity: {
      unit: 1,
      rows: roomOnly(526),
      source: { document: 'public property file for Ti-6Al-4V', trust: 'excerpt' },
    },
    density: {
      unit: 1,
      rows: anyTemperature(4430),
      source: { document: 'public property file for Ti-6Al-4V', trust: 'excerpt' },
    },
  },
  'mild-steel': {
    expansion: {
      unit: 1e-6,
      rows: [
        [93, 12.1],
        [204, 12.8],
        [316, 13.3],
        [427, 14],
        [538, 14.6],
        [649, 14.9],
      ],
      source: {
        document: 'ASME BPVC II-D, table TE-1, group 1, coefficient B',
        trust: 'excerpt',
        note: 'read in several copies',
      },
    },
    modulus: {
      unit: 1e9,
      rows: [
        [25, 202],
        [100, 198],
        [200, 192],
        [300, 185],
        [400, 171],
        [500, 151],
        [550, 137],
      ],
      source: { document: 'ASME BPVC II-D, carbon steel up to 0.30 % C', clause: 'p. 785', trust: 'excerpt' },
    },
    yield: {
      unit: 1e6,
      rows: [
        [20, 205],
        [400, 123],
        [600, 41],
      ],
      source: {
        document: 'carbon steel 1010 to 1020, low end',
        trust: 'uncertain',
        note: '0.6 of the cold yield at 400 C and 0.2 at 600 C, shares from memory and doubtful',
      },
    },
    tensile: {
      unit: 1e6,
      rows: roomOnly(330),
      source: { document: 'carbon steel 1010 to 1020, low end', trust: 'memory' },
    },
    conductivity: {
      unit: 1,
      rows: roomOnly(50),
      source: { document: 'handbook values for carbon steel', trust: 'memory' },
    },
    heatCapacity: {
      unit: 1,
      rows: roomOnly(470),
      source: { document: 'handbook values for carbon steel', trust: 'memory' },
    },
    density: {
      unit: 1,
      rows: anyTemperature(7850),
      source: { document: 'handbook values for carbon steel', trust: 'memory' },
    },
  },
} as const;
