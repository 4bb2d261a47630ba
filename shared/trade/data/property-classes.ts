import type { Source } from '../source.ts';

/** Property classes with a hot yield table. Nickel and A286 studs have none here: their hot figures were not found. */
export const propertyClassKeys = ['8.8', '10.9', '12.9', 'A2-70', 'A4-70', 'A4-80'] as const;
/** Key of a row of {@link propertyClasses}. */
export type PropertyClassKey = (typeof propertyClassKeys)[number];

/** A fastener property class; stresses in Pa. */
export interface PropertyClass {
  /** Proof stress; for stainless classes, which have none, the minimum Rp0.2. */
  readonly proofStress: number;
  /** Minimum yield at 20 C. */
  readonly yield: number;
  readonly source: Source;
  /** Minimum yield against temperature: rows of [degrees C as published, MPa]. */
  readonly hotYield: readonly (readonly [number, number])[];
  readonly hotSource: Source;
}

const iso898: Source = { document: 'ISO 898-1', clause: 'mechanical properties, d <= 16 mm', trust: 'excerpt' };
const iso3506: Source = {
  document: 'ISO 3506-1',
  clause: 'Rp0.2 minimum',
  trust: 'excerpt',
  note: 'stainless classes have no proof stress: Rp0.2 is used in its place',
};
const hot898: Source = { document: 'ISO 898-1:1999', clause: 'annex A, ReL at temperature', trust: 'memory' };
const hot3506: Source = {
  document: 'ISO 3506-1',
  clause: 'annex, Rp0.2 at temperature as a share of cold',
  trust: 'memory',
};

const MPa = 1e6;
/** Share of the cold yield left in A2 and A4 steels, applied to each class. */
const stainlessShare = (yieldMPa: number): PropertyClass['hotYield'] => [
  [20, yieldMPa],
  [100, 0.85 * yieldMPa],
  [200, 0.8 * yieldMPa],
  [300, 0.75 * yieldMPa],
  [400, 0.7 * yieldMPa],
];
const stainless = (yieldMPa: number): PropertyClass => ({
  proofStress: yieldMPa * MPa,
  yield: yieldMPa * MPa,
  source: iso3506,
  hotYield: stainlessShare(yieldMPa),
  hotSource: hot3506,
});

/** Classes by designation. 8.8 is for threads to M16. */
export const propertyClasses: Readonly<Record<PropertyClassKey, PropertyClass>> = {
  '8.8': {
    proofStress: 580 * MPa,
    yield: 640 * MPa,
    source: iso898,
    hotYield: [
      [20, 640],
      [100, 590],
      [200, 540],
      [300, 480],
    ],
    hotSource: hot898,
  },
  '10.9': {
    proofStress: 830 * MPa,
    yield: 940 * MPa,
    source: iso898,
    hotYield: [
      [20, 940],
      [100, 875],
      [200, 790],
      [300, 705],
    ],
    hotSource: hot898,
  },
  '12.9': {
    proofStress: 970 * MPa,
    yield: 1100 * MPa,
    source: iso898,
    hotYield: [
      [20, 1100],
      [100, 1020],
      [200, 925],
      [300, 825],
    ],
    hotSource: hot898,
  },
  'A2-70': stainless(450),
  'A4-70': stainless(450),
  'A4-80': stainless(600),
};
