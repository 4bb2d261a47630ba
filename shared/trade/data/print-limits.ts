import type { Source } from '../source.ts';

/** A limit of powder-bed printing: band low to high and the value a check starts from, SI. */
export interface PrintLimit {
  readonly band: readonly [number, number];
  readonly start: number;
  readonly source: Source;
}

const bureau = (name: string): Source => ({ document: `printing bureau design page (${name})`, trust: 'excerpt' });
const practice = (note?: string): Source => ({
  document: 'common practice, no source',
  trust: 'practice',
  ...(note === undefined ? {} : { note }),
});
const memory: Source = { document: 'bureau guides by material', trust: 'uncertain', note: 'no primary table found' };
const limit = (low: number, high: number, start: number, source: Source): PrintLimit => ({
  band: [low, high],
  start,
  source,
});
const deg = Math.PI / 180;
const mm = 1e-3;

/** Printed materials with a least self-supporting angle. */
export const printMaterials = ['316L', '625', '718', 'AlSi10Mg', 'CoCr', 'Ti-6Al-4V', 'any'] as const;
/** One of {@link printMaterials}. */
export type PrintMaterial = (typeof printMaterials)[number];

/** Least self-supporting angle FROM THE PLATE, rad. Below 30 degrees support is mandatory whatever the material. */
export const selfSupportingAngles: Readonly<Record<PrintMaterial, PrintLimit>> = {
  '316L': limit(30 * deg, 45 * deg, 45 * deg, memory),
  '625': limit(40 * deg, 45 * deg, 45 * deg, {
    ...memory,
    note: '40 degrees with a tuned down-skin set; no primary table found',
  }),
  '718': limit(40 * deg, 45 * deg, 45 * deg, {
    ...memory,
    note: '40 degrees with a tuned down-skin set; no primary table found',
  }),
  AlSi10Mg: limit(40 * deg, 45 * deg, 45 * deg, memory),
  CoCr: limit(30 * deg, 40 * deg, 40 * deg, memory),
  'Ti-6Al-4V': limit(20 * deg, 40 * deg, 40 * deg, memory),
  any: limit(40 * deg, 45 * deg, 45 * deg, {
    document: '10.1201/b19360-7, literature summary; a bureau page asks 45 degrees of all metals',
    trust: 'excerpt',
  }),
};

/** Overhang of 625 without support: warn below the first, fail below the second, support mandatory below the third; rad. Source: own defaults. */
export const overhangSteps = { warn: 45 * deg, fail: 40 * deg, mandatory: 30 * deg } as const;

/** Limits of shapes, m. */
export const printFeatures = {
  ledge: limit(0, 0.5 * mm, 0.5 * mm, bureau('ledge above 0.020 in needs support')),
  bridge: limit(2 * mm, 3 * mm, 2 * mm, memory),
  horizontalBore: limit(6 * mm, 10 * mm, 8 * mm, {
    document: 'Materials 2023, 16(12), 4205, introduction',
    trust: 'excerpt',
    note: 'a greatest value; one trade page prints it as a least one',
  }),
  crownDroop: limit(0.1 * mm, 0.5 * mm, 0.5 * mm, practice('unsupported round bore, plus dross')),
  supportedWall: limit(0.4 * mm, 0.4 * mm, 0.4 * mm, bureau('feature table')),
  freeWall: limit(0.8 * mm, 1 * mm, 1 * mm, bureau('feature table; 0.8 above 10 mm height elsewhere')),
  headerWall: limit(1 * mm, 2 * mm, 1.2 * mm, practice('2.5 to 4 mm at flange roots')),
  gap: limit(0.2 * mm, 0.5 * mm, 0.5 * mm, memory),
  verticalHole: limit(0.5 * mm, 0.5 * mm, 0.5 * mm, bureau('feature table')),
  pin: limit(0.5 * mm, 1 * mm, 1 * mm, bureau('feature tables, two disagree')),
  powderExit: limit(2 * mm, 5 * mm, 4 * mm, bureau('two openings a closed volume, at least 2 mm, better 4')),
} as const satisfies Readonly<Record<string, PrintLimit>>;

/** Machining stock, m. */
export const machiningStock = {
  sealingFace: limit(0.3 * mm, 1 * mm, 1 * mm, { document: 'post-processing trade page', trust: 'excerpt' }),
  longFlangeFace: limit(1 * mm, 2 * mm, 1.5 * mm, practice('header flange from 150 mm, because of bow')),
  supportedFace: limit(1 * mm, 2 * mm, 1.5 * mm, practice('face that was supported or sat on the plate')),
  hole: limit(1 * mm, 2 * mm, 1 * mm, practice('on the diameter; holes up to 6 mm are left out and drilled')),
} as const satisfies Readonly<Record<string, PrintLimit>>;

/** Cutting off the plate, m. Stress relieve on the plate first, then cut (ASTM F3301, introduction read). */
export const cuttingOff = {
  wireDiameter: limit(0.2 * mm, 0.3 * mm, 0.25 * mm, { document: 'wire-cut practice', trust: 'memory' }),
  wireKerf: limit(0.12 * mm, 0.35 * mm, 0.31 * mm, { document: 'trade page on wire cutting', trust: 'excerpt' }),
  wireAllowance: limit(1.5 * mm, 3 * mm, 3 * mm, practice('least 1.31 mm by sum')),
  recast: limit(2e-6, 20e-6, 20e-6, {
    document: 'trade page on wire cutting',
    trust: 'excerpt',
    note: 'take it off weld faces',
  }),
  sawKerf: limit(1 * mm, 1.6 * mm, 1.3 * mm, practice()),
  sawAllowance: limit(4 * mm, 5 * mm, 5 * mm, practice('least 3.3 mm by sum')),
} as const satisfies Readonly<Record<string, PrintLimit>>;

/** Benchmark bridge 75 x 5 x 12.5 mm cut from the plate without stress relief: rise of the free end, m. Source: nist.gov/ambench/chal-amb2018-01-pd (excerpt). */
export const benchmarkBridge = {
  length: 75 * mm,
  height: 12.5 * mm,
  rise625: 1.276 * mm,
  rise155: 1.168 * mm,
} as const;

/** Share of the bridge distortion that 870 C for 1 h takes away, least to most by scan strategy. Source: Materials 2024, 17(2), 413 (excerpt). */
export const stressReliefShare: readonly [number, number] = [0.39, 0.63];
