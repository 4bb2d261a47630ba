/** Welds, fit-up, mock-up pieces and prints of the demo job. All data is invented; SI values. */

const mm = 1e-3;
const um = 1e-6;

/** Fields of the groups. */
export const workFields: Readonly<Record<string, unknown>> = {
  'mockUpPrinter.spaceX': 250 * mm,
  'mockUpPrinter.spaceY': 210 * mm,
  'mockUpPrinter.spaceZ': 210 * mm,
  'mockUpPrinter.rim': 5 * mm,
};

/** What a joint has beside its arc. The fourth has too few tacks: one of the faults the demo is for. */
export function jointWork(cylinder: number): Readonly<Record<string, unknown>> {
  return {
    metalA: '625',
    metalB: '625',
    filler: 'ERNiCrMo-3',
    interpass: 273.15 + 70 + 2 * cylinder,
    tungsten: 2.4 * mm,
    stickOut: 6 * mm,
    cup: cylinder === 3 ? 'gas-lens' : 'collet-body',
    outsideDiameter: 42.4 * mm,
    tacks: cylinder === 4 ? 4 : 6,
    rootGap: 0.1 * mm,
    step: 0.15 * mm,
  };
}

/** A row of a collection: its branch, id and fields. */
export type WorkRow = readonly [branch: string, id: string, values: Readonly<Record<string, unknown>>];

/** Uncertainty of the gauge on the surface plate. */
const gauge = { flatnessUncertainty: 3 * um };

/** Faces as measured after welding; port 3 is out. */
const ports = [21, 26, 58, 32, 24].map((flatness, i): WorkRow => {
  const name = `Port ${i + 1}`;
  return ['faces', `port-${i + 1}`, { name, extent: 'port', flatness: flatness * um, points: 12, ...gauge }];
});

const printed = { scanPoints: 52000, alignment: 'datum-faces', scanUncertainty: 20 * um };

/** Rows of the collections. */
export const workRows: readonly WorkRow[] = [
  [
    'mockUpPieces',
    'flange-left',
    { name: 'Flange, cylinders 1 to 3', length: 235 * mm, width: 100 * mm, height: 60 * mm },
  ],
  [
    'mockUpPieces',
    'flange-right',
    { name: 'Flange, cylinders 4 and 5', length: 190 * mm, width: 100 * mm, height: 60 * mm },
  ],
  ['mockUpPieces', 'collector', { name: 'Collector', length: 150 * mm, width: 130 * mm, height: 130 * mm }],
  [
    'dowels',
    'flange-split',
    {
      name: 'Flange split, front',
      made: 'filament',
      diameter: 5 * mm,
      hole: 5.25 * mm,
      pin: 5.006 * mm,
      fitUncertainty: 0.01 * mm,
    },
  ],
  ['witnesses', 'cube-1', { name: 'Cube 1', density: 0.9979, densityUncertainty: 0.0004 }],
  [
    'printedWalls',
    'r1-bend',
    { name: 'Runner 1 at the bend', nominal: 2 * mm, thinnest: 1.96 * mm, wallUncertainty: 0.015 * mm },
  ],
  [
    'printedWalls',
    'r3-root',
    { name: 'Runner 3 at the flange', nominal: 2 * mm, thinnest: 1.98 * mm, wallUncertainty: 0.015 * mm },
  ],
  ['printedPieces', 'runner-1', { name: 'Runner 1', longest: 0.31, size95: 0.34 * mm, ...printed }],
  ['printedPieces', 'runner-5', { name: 'Runner 5', longest: 0.3, size95: 0.41 * mm, ...printed }],
  ['faces', 'head-flange', { name: 'Head flange', extent: 'whole-flange', flatness: 71 * um, points: 60, ...gauge }],
  ...ports,
  [
    'chains',
    'head-to-turbine',
    {
      name: 'Head to turbine flange',
      joints: 3,
      wall: 2 * mm,
      weldArea: 6.5e-6,
      rootGap: 0.1 * mm,
      slack: 2.4 * mm,
    },
  ],
];
