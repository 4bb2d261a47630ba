import { validityTable } from '../../../tests/support/validityTable.ts';
import { gapBar } from './gap-bar.ts';
import { pipeWall, wallCoefficient, weldStrengthFactor } from './pipe-wall.ts';
import { tubeSection } from './tube-section.ts';

validityTable({
  name: 'gap-bar',
  call: gapBar,
  good: {
    length: 0.2,
    gap: 1e-4,
    area: 1e-4,
    modulus: 2e11,
    expansion: 1.7e-5,
    temperature: 900,
    referenceTemperature: 293,
  },
  rows: {
    length: ['length', 1e-3, 10],
    gap: ['length', 0, 0.1],
    area: ['area', 1e-8, 1],
    modulus: ['stress', 1e9, 3e11],
    expansion: ['expansion', 0, 4e-5],
    temperature: ['temperature', 200, 1500],
    referenceTemperature: ['temperature', 200, 1500],
  },
});

validityTable({
  name: 'pipe-wall',
  call: pipeWall,
  good: {
    pressure: 5e5,
    outsideDiameter: 0.05,
    allowableStress: 5e7,
    jointQuality: 0.8,
    weldStrength: 0.9,
    coefficient: 0.4,
    allowance: 5e-4,
    millTolerance: 0.125,
  },
  rows: {
    pressure: ['pressure', 0, 5e7],
    outsideDiameter: ['length', 5e-3, 2],
    allowableStress: ['stress', 1e5, 1e9],
    jointQuality: ['ratio', 0.6, 1],
    weldStrength: ['ratio', 0.5, 1],
    coefficient: ['ratio', 0.4, 0.7],
    allowance: ['length', 0, 0.02],
    millTolerance: ['share', 0, 0.5],
  },
});

// 0 C to 900 C and to 816 C.
validityTable({
  name: 'pipe-wall coefficient',
  call: ({ temperature }) => wallCoefficient('austenitic', temperature),
  good: { temperature: 700 },
  rows: { temperature: ['temperature', 273.15, 1173.15] },
});
validityTable({
  name: 'weld strength factor',
  call: ({ temperature }) => weldStrengthFactor(temperature),
  good: { temperature: 700 },
  rows: { temperature: ['temperature', 273.15, 1089.15] },
});

validityTable({
  name: 'tube-section',
  call: tubeSection,
  good: { outsideDiameter: 0.042, wall: 1.6e-3, density: 8000 },
  rows: { outsideDiameter: ['length', 5e-3, 0.5], wall: ['length', 2e-4, 0.05], density: ['density', 500, 2e4] },
});
