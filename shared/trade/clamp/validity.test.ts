import { validityTable } from '../../../tests/support/validityTable.ts';
import { effectiveGasketWidth, gasketLoads } from './gasket-loads.ts';
import { embeddingDepth, embeddingLoss, thermalPreloadChange } from './joint-change.ts';
import { gasketStressRange, leverClamp } from './lever-clamp.ts';
import { raisedBlock, wedgeBlock } from './wedge-block.ts';

validityTable({
  name: 'effective-gasket-width',
  call: ({ basicWidth }) => effectiveGasketWidth(basicWidth),
  good: { basicWidth: 5e-3 },
  rows: { basicWidth: ['length', 0, 0.1] },
});

validityTable({
  name: 'gasket-loads',
  call: gasketLoads,
  good: { insideDiameter: 0.045, outsideDiameter: 0.055, factor: 2, seatingStress: 2e7, pressure: 1e5 },
  rows: {
    insideDiameter: ['length', 5e-3, 1],
    outsideDiameter: ['length', 5e-3, 1],
    factor: ['ratio', 0, 10],
    seatingStress: ['stress', 0, 3e8],
    pressure: ['pressure', 0, 1e7],
  },
});

validityTable({
  name: 'embedding-depth',
  call: ({ interfaces }) => embeddingDepth('fine', interfaces),
  good: { interfaces: 2 },
  rows: { interfaces: ['count', 0, 10] },
});

validityTable({
  name: 'embedding-loss',
  call: ({ depth, ...joint }) => embeddingLoss(depth, joint),
  good: { depth: 5e-6, stud: 5e-9, parts: 1e-9 },
  rows: { depth: ['length', 0, 1e-4], stud: ['m/N', 1e-12, 1e-6], parts: ['m/N', 1e-12, 1e-6] },
});

const joint = { stud: 5e-9, parts: 1e-9 };
const warmed = { expansion: 1.2e-5, length: 0.03, temperature: 600, referenceTemperature: 293 };
const warmedRows = {
  expansion: ['expansion', 0, 4e-5],
  length: ['length', 0, 1],
  temperature: ['temperature', 200, 1500],
  referenceTemperature: ['temperature', 200, 1500],
} as const;
validityTable({
  name: 'thermal-preload-change',
  call: (compliance) => thermalPreloadChange(warmed, [warmed], compliance),
  good: joint,
  rows: { stud: ['m/N', 1e-12, 1e-6], parts: ['m/N', 1e-12, 1e-6] },
});
validityTable({
  name: 'thermal-preload-change',
  call: (stud) => thermalPreloadChange(stud, [warmed], joint),
  good: warmed,
  rows: warmedRows,
});
validityTable({
  name: 'thermal-preload-change',
  call: (second) => thermalPreloadChange(warmed, [warmed, second], joint),
  good: warmed,
  rows: warmedRows,
});

validityTable({
  name: 'lever-clamp',
  call: leverClamp,
  good: { boltForce: 1e4, boltDistance: 0.05, gasketDistance: 0.03, angle: 0.2, friction: 0.15 },
  rows: {
    boltForce: ['force', 1, 1e6],
    boltDistance: ['length', 1e-3, 1],
    gasketDistance: ['length', 1e-3, 1],
    angle: ['angle', 0, 1.3],
    friction: ['ratio', 0, 0.6],
  },
});

validityTable({
  name: 'gasket-stress-range',
  call: gasketStressRange,
  good: { force: 1e4, area: 1e-3, eccentricity: 0.005, halfLength: 0.05, secondMoment: 1e-6 },
  rows: {
    force: ['force', 0, 1e6],
    area: ['area', 1e-7, 1],
    eccentricity: ['length', -1, 1],
    halfLength: ['length', 1e-3, 1],
    secondMoment: ['m4', 1e-14, 1],
  },
});

validityTable({
  name: 'wedge-block',
  call: wedgeBlock,
  good: { boltForce: 1e4, angle: 0.3, bevelFriction: 0.15, wallFriction: 0.15 },
  rows: {
    boltForce: ['force', 0, 1e6],
    angle: ['angle', 0, 1.4],
    bevelFriction: ['ratio', 0, 0.6],
    wallFriction: ['ratio', 0, 0.6],
  },
});

validityTable({
  name: 'raised-block',
  call: raisedBlock,
  good: { load: 1e4, angle: 0.2, frictionAngle: 0.15 },
  rows: { load: ['force', 0, 1e6], angle: ['angle', 0, 1.4], frictionAngle: ['angle', 0, 0.6] },
});
