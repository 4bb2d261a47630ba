/** Route, service, gasket and clamp of the demo job. All data is invented; SI values. */

const mm = 1e-3;

/** Fields of the groups. */
export const structureFields: Readonly<Record<string, unknown>> = {
  'route.made': 'both',
  'service.hotLife': { si: 60 * 3600, as: '60 h' },
  'service.lowSpeed': { si: 3000 / 60, as: '3000 rpm' },
  'service.topSpeed': { si: 7400 / 60, as: '7400 rpm' },
  'service.otherMass': 3.1,
  'service.massTarget': 9.5,
  'turbo.brace': 'braced',
  'head.metal': 'aluminium',
  'stud.engagement': 18 * mm,
  'stud.preloadScatter': 0.25,
  'stud.preloadLoss': 0.15,
  'flange.width': 100 * mm,
  'flange.spanEnds': 'continuous',
  'gasket.kind': 'graphite-sheet',
  'gasket.insideDiameter': 42 * mm,
  'gasket.outsideDiameter': 51 * mm,
  'gasket.crush': 103e6,
  'gasket.recovery': 0.05 * mm,
  'gasket.studs': 2,
  'cutting.method': 'cut-and-weld',
  'cutting.kerf': 2 * mm,
  'cutting.tubeLength': 1.5,
  'cutting.tubeCount': 3,
  'cutting.fixtureReach': 0.6,
  'cutting.sheetLength': 297 * mm,
  'cutting.sheetWidth': 210 * mm,
};

/** Rows of the collections: branch, id, values. Every joint is welded: there are no slip joints. */
export const structureRows: readonly (readonly [string, string, Readonly<Record<string, unknown>>])[] = [
  [
    'wedges',
    'turbine',
    {
      name: 'Turbine flange',
      drive: 9000,
      angle: Math.PI / 6,
      lowFriction: 0.12,
      highFriction: 0.3,
      lock: 'locked',
      need: 5000,
    },
  ],
  ['stockBends', 'u64', { name: 'U bend 64', radius: 64 * mm, angle: Math.PI, count: 4 }],
  ['stockBends', 'u70', { name: 'U bend 70', radius: 70 * mm, angle: Math.PI, count: 2 }],
  ['stockBends', 'u60', { name: 'U bend 60', radius: 60 * mm, angle: Math.PI, count: 3 }],
  ['mitres', 'downpipe', { name: 'First bend of the downpipe', angle: Math.PI / 2, radius: 80 * mm, joints: 5 }],
  [
    'copes',
    'wastegate',
    { name: 'Wastegate on the collector', mainDiameter: 66.7 * mm, angle: Math.PI / 4, offset: 5 * mm },
  ],
];
