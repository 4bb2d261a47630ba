import type { Source } from '../source.ts';

/** Conditions and grades with a specified minimum and a service limit. */
export const gradeKeys = [
  '304',
  '304L',
  '316L',
  '321',
  '347',
  '625-annealed',
  '625-solution',
  '718-aged',
  'A286-660A',
  'A356',
  'AlSi10Mg',
  'Ti-2',
  'Ti-6Al-4V',
  'mild-steel',
] as const;
/** Key of a row of {@link grades}. */
export type GradeKey = (typeof gradeKeys)[number];

/** Minimum strength at 20 C (Pa) and the temperature (K) above which oxidation or creep forbids long service: not an allowable stress. */
export interface Grade {
  readonly minimumYield: number;
  readonly minimumTensile: number;
  readonly serviceLimit: number;
  readonly source: Source;
}

const row = (yieldMPa: number, tensileMPa: number, celsius: number, source: Source): Grade => ({
  minimumYield: yieldMPa * 1e6,
  minimumTensile: tensileMPa * 1e6,
  serviceLimit: celsius + 273.15,
  source,
});

/** Grades by key. Where a band is given, the low end stands here. */
export const grades: Readonly<Record<GradeKey, Grade>> = {
  '304': row(205, 515, 870, {
    document: 'ASTM A240; service: trade data, 870 C cyclic, 925 C continuous',
    trust: 'memory',
  }),
  '304L': row(170, 485, 870, {
    document: 'ASTM A240; service as 304',
    trust: 'memory',
    note: 'under a pressure code about 425 C',
  }),
  '316L': row(170, 485, 870, {
    document: 'ASTM A240; service: trade data, 870 C cyclic',
    trust: 'memory',
    note: 'scales much faster than 304 at 980 C',
  }),
  '321': row(205, 515, 870, { document: 'ASTM A240; service: supplier sheet, oxidation 1600 F', trust: 'excerpt' }),
  '347': row(205, 515, 870, { document: 'ASTM A240; service as 321', trust: 'memory' }),
  '625-annealed': row(414, 827, 593, {
    document: 'ASTM B446 grade 1, bar to 102 mm',
    trust: 'excerpt',
    note: 'creep limited',
  }),
  '625-solution': row(276, 690, 982, {
    document: 'ASTM B446 grade 2',
    trust: 'excerpt',
    note: 'the grade for use above 593 C',
  }),
  '718-aged': row(1034, 1276, 650, { document: 'AMS 5662 / 5663', trust: 'memory', note: '650 C read in an excerpt' }),
  'A286-660A': row(586, 896, 704, {
    document: 'ASTM A453 grade 660 A, B, C; A286 technical data 1300 F',
    trust: 'excerpt',
  }),
  A356: row(165, 230, 250, { document: 'handbook values for cast heads, T6', trust: 'memory' }),
  AlSi10Mg: row(230, 430, 150, {
    document: 'machine maker data, as printed',
    trust: 'memory',
    note: 'not for exhaust',
  }),
  'Ti-2': row(275, 345, 315, { document: 'handbook values for titanium grade 2', trust: 'memory' }),
  'Ti-6Al-4V': row(828, 895, 315, {
    document: 'handbook values for Ti-6Al-4V annealed',
    trust: 'memory',
    note: '315 to 400 C long term; alpha case above 480 C',
  }),
  'mild-steel': row(205, 330, 480, {
    document: 'carbon steel 1010 to 1020',
    trust: 'memory',
    note: '480 to 540 C, scaling',
  }),
};

/** Conditions of printed 625 with figures. */
export const printedConditions = [
  'as-built-xy',
  'as-built-z',
  'stress-relieved-xy',
  'stress-relieved-z',
  'solution',
  'standard-minimum',
] as const;
/** One of {@link printedConditions}. */
export type PrintedCondition = (typeof printedConditions)[number];

/** Tensile figures of printed 625 at 20 C: stresses in Pa, elongation as a share. Means unless the source says minimum. */
export interface PrintedStrength {
  readonly yield: number;
  readonly tensile: number;
  readonly elongation: number;
  readonly source: Source;
}

const printed = (yieldMPa: number, tensileMPa: number, elongation: number, source: Source): PrintedStrength => ({
  yield: yieldMPa * 1e6,
  tensile: tensileMPa * 1e6,
  elongation,
  source,
});
const machineMaker = 'printing machine maker data sheet for 625';

/** Printed 625 by condition; Z is across the layers. No figure at temperature was found: test a coupon. */
export const printed625: Readonly<Record<PrintedCondition, PrintedStrength>> = {
  'as-built-xy': printed(725, 990, 0.35, { document: machineMaker, trust: 'memory' }),
  'as-built-z': printed(615, 900, 0.42, { document: machineMaker, trust: 'memory' }),
  'stress-relieved-xy': printed(720, 1040, 0.35, { document: machineMaker, clause: '870 C, 1 h', trust: 'memory' }),
  'stress-relieved-z': printed(650, 930, 0.44, { document: machineMaker, clause: '870 C, 1 h', trust: 'memory' }),
  solution: printed(396, 883, 0.55, {
    document: 'Materials Science and Engineering A 729 (2018) 64',
    clause: '1150 C, 2 h',
    trust: 'memory',
  }),
  'standard-minimum': printed(275, 485, 0.3, {
    document: 'ASTM F3056, minimum',
    trust: 'uncertain',
    note: 'table text not read; equals the cast minimum',
  }),
};

/** Share of a wrought rupture stress printed 625 is trusted with until a coupon is tested. Source: common practice. */
export const printedCreepShare = 0.8;
