import { alloys } from './alloys.ts';
import { anyTemperature, roomOnly } from './stainless-tables.ts';

const bulletin625 = 'maker bulletin SMC-063 for alloy 625 (UNS N06625)';
const sheet718 = 'metal supplier data sheet for alloy 718';

/** Nickel alloys 625 and 718 and the iron-nickel stud alloy A286. */
export const superalloyTables = {
  '625': {
    ...alloys['625'],
    tensile: {
      unit: 1e6,
      rows: [
        [21, 900],
        [538, 760],
        [649, 745],
        [760, 560],
        [816, 430],
        [871, 290],
        [982, 130],
      ],
      source: {
        document: bulletin625,
        clause: 'annealed, tensile curves',
        trust: 'uncertain',
        note: 'typical values read off curves from memory, not minima',
      },
    },
    conductivity: {
      unit: 1,
      rows: [
        [21, 9.8],
        [93, 10.8],
        [204, 12.5],
        [316, 14.1],
        [427, 15.7],
        [538, 17.5],
        [649, 19],
        [760, 20.8],
        [871, 22.8],
        [982, 25.2],
      ],
      source: { document: bulletin625, trust: 'excerpt', note: 'read in a transcription' },
    },
    heatCapacity: {
      unit: 1,
      rows: [
        [21, 410],
        [93, 427],
        [204, 456],
        [316, 481],
        [427, 511],
        [538, 536],
        [649, 565],
        [760, 590],
        [871, 620],
        [982, 645],
        [1093, 670],
      ],
      source: {
        document: bulletin625,
        trust: 'excerpt',
        note: 'read in a transcription; a second one prints 402 at 21 C, which is the value at -18 C',
      },
    },
    poisson: {
      unit: 1,
      rows: [
        [21, 0.278],
        [871, 0.336],
      ],
      source: { document: 'encyclopedia page on alloy 625', clause: 'annealed', trust: 'excerpt', note: 'two points' },
    },
  },
  '718': {
    expansion: {
      unit: 1e-6,
      rows: [
        [93, 12.8],
        [204, 13.5],
        [316, 13.9],
        [427, 14.2],
        [538, 14.4],
        [649, 15.1],
        [760, 16],
      ],
      source: { document: sheet718, clause: 'mean expansion from 25 C', trust: 'excerpt' },
    },
    modulus: {
      unit: 1e9,
      rows: [
        [21, 208],
        [93, 205],
        [204, 202],
        [316, 194],
        [427, 186],
        [538, 179],
        [649, 172],
        [760, 162],
        [871, 127],
        [954, 78],
      ],
      source: { document: sheet718, trust: 'excerpt' },
    },
    yield: {
      unit: 1e6,
      rows: [
        [20, 1034],
        [649, 862],
      ],
      source: { document: 'AMS 5662 / 5663, aged, minimum', trust: 'memory', note: 'two points' },
    },
    tensile: {
      unit: 1e6,
      rows: [
        [20, 1276],
        [649, 965],
      ],
      source: {
        document: 'AMS 5662 / 5663, aged, minimum',
        trust: 'memory',
        note: 'two points; typical at 649 C is 1000',
      },
    },
    conductivity: {
      unit: 1,
      rows: [
        [21, 11.4],
        [204, 14.1],
        [427, 17.7],
        [538, 19.5],
        [649, 21.2],
        [760, 23.1],
        [871, 24.9],
      ],
      source: { document: 'maker data for alloy 718', trust: 'memory' },
    },
    heatCapacity: { unit: 1, rows: roomOnly(435), source: { document: 'maker data for alloy 718', trust: 'memory' } },
    density: { unit: 1, rows: anyTemperature(8220), source: { document: sheet718, trust: 'excerpt' } },
  },
  A286: {
    expansion: {
      unit: 1e-6,
      rows: [
        [100, 16.5],
        [540, 17.5],
      ],
      source: {
        document: 'data for UNS S66286',
        clause: 'mean expansion from 20 C',
        trust: 'memory',
        note: 'two points',
      },
    },
    modulus: {
      unit: 1e9,
      rows: [
        [21, 199],
        [538, 163],
        [593, 157],
        [649, 151],
        [704, 145],
        [760, 139],
      ],
      source: { document: 'technical data for A286 (UNS S66286)', trust: 'excerpt' },
    },
    yield: {
      unit: 1e6,
      rows: roomOnly(586),
      source: {
        document: 'ASTM A453 grade 660 classes A, B, C',
        clause: 'table 5',
        trust: 'excerpt',
        note: 'no hot figures found',
      },
    },
    tensile: {
      unit: 1e6,
      rows: roomOnly(896),
      source: {
        document: 'ASTM A453 grade 660 classes A, B, C',
        clause: 'table 5',
        trust: 'excerpt',
        note: 'no hot figures found',
      },
    },
    density: { unit: 1, rows: anyTemperature(7916), source: { document: 'technical data for A286', trust: 'excerpt' } },
  },
} as const;
