import { validityTable } from '../../../tests/support/validityTable.ts';
import { airProperties } from './air-properties.ts';
import { outsideLoss } from './outside-loss.ts';
import { irradiation, plateFlux, radiantFlux } from './radiation.ts';
import { requiredGap } from './required-gap.ts';
import { targetTemperature } from './target-temperature.ts';
import { wallBalance } from './wall-balance.ts';

validityTable({
  name: 'air properties',
  call: ({ temperature, pressure }) => airProperties(temperature, pressure),
  good: { temperature: 400, pressure: 101325 },
  rows: { temperature: ['temperature', 220, 2000], pressure: ['pressure', 1e4, 1e6] },
});

validityTable({
  name: 'outside loss',
  call: ({ air, walls, ...pipe }) => outsideLoss(pipe, { air, walls }),
  good: { outsideDiameter: 0.045, emissivity: 0.8, surface: 900, air: 320, walls: 310 },
  rows: {
    outsideDiameter: ['length', 1e-3, 1],
    emissivity: ['share', 0, 1],
    surface: ['temperature', 220, 1800],
    air: ['temperature', 220, 800],
    walls: ['temperature', 220, 800],
  },
});

validityTable({
  name: 'radiant flux',
  call: ({ emissivity, surface, surroundings }) => radiantFlux(emissivity, surface, surroundings),
  good: { emissivity: 0.8, surface: 900, surroundings: 320 },
  rows: {
    emissivity: ['share', 0, 1],
    surface: ['temperature', 1, 3000],
    surroundings: ['temperature', 1, 3000],
  },
});

validityTable({
  name: 'plate flux',
  call: ({ hot, cold, hotEmissivity, coldEmissivity }) =>
    plateFlux({ temperature: hot, emissivity: hotEmissivity }, { temperature: cold, emissivity: coldEmissivity }),
  good: { hot: 900, cold: 320, hotEmissivity: 0.8, coldEmissivity: 0.3 },
  rows: {
    hot: ['temperature', 1, 3000],
    cold: ['temperature', 1, 3000],
    hotEmissivity: ['share', 0.001, 1],
    coldEmissivity: ['share', 0.001, 1],
  },
});

validityTable({
  name: 'irradiation',
  call: irradiation,
  good: { viewFactor: 0.4, emissivity: 0.8, temperature: 900, ambient: 320, shieldRatio: 1 },
  rows: {
    viewFactor: ['share', 0, 1],
    emissivity: ['share', 0, 1],
    temperature: ['temperature', 1, 3000],
    ambient: ['temperature', 1, 3000],
    shieldRatio: ['share', 0, 1],
  },
});

const hose = { emissivity: 0.9, faces: 1, coefficient: 15 } as const;
validityTable({
  name: 'required gap',
  call: (allowed) =>
    requiredGap(
      { pairing: 'surface-pipe', radius: 0.022, emissivity: 0.8, temperature: 900, shieldRatio: 1 },
      hose,
      320,
      allowed,
    ),
  good: { limit: 420, margin: 20 },
  rows: { limit: ['temperature', 220, 1800], margin: ['K', 0, 500] },
});

validityTable({
  name: 'target temperature',
  call: ({ irradiation: shone, emissivity, coefficient, air, backCoefficient, backTemperature }) =>
    targetTemperature(
      shone,
      { emissivity, faces: 2, coefficient, back: { coefficient: backCoefficient, temperature: backTemperature } },
      air,
    ),
  good: {
    irradiation: 5000,
    emissivity: 0.9,
    coefficient: 15,
    air: 320,
    backCoefficient: 100,
    backTemperature: 330,
  },
  rows: {
    irradiation: ['W/m2', 0, 1e6],
    emissivity: ['share', 0, 1],
    coefficient: ['heatTransfer', 1, 500],
    air: ['temperature', 220, 800],
    backCoefficient: ['heatTransfer', 0, 1e5],
    backTemperature: ['temperature', 220, 800],
  },
});

validityTable({
  name: 'wall balance',
  call: ({ gas, coefficient, pulsation, ...wall }) =>
    wallBalance(wall, { temperature: gas, coefficient, pulsation }, { air: 320, walls: 320 }),
  good: {
    bore: 0.04,
    outsideDiameter: 0.0432,
    conductivity: 25,
    emissivity: 0.8,
    gas: 1200,
    coefficient: 120,
    pulsation: 2,
  },
  rows: {
    bore: ['length', 1e-3, 1],
    outsideDiameter: ['length', 1e-3, 1],
    conductivity: ['conductivity', 1, 500],
    emissivity: ['share', 0, 1],
    gas: ['temperature', 300, 1800],
    coefficient: ['heatTransfer', 0.1, 1e4],
    pulsation: ['ratio', 0.5, 5],
  },
});
