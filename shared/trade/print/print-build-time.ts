import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { buildTime } from './build-time.ts';

/** Time a build takes from start to unloaded part, s. */
export const printBuildTime = defineFormula({
  id: 'print-build-time',
  title: 'Build time',
  inputs: {
    partVolume: { quantity: 'volume', range: [0, 0.05], help: 'part' },
    supportVolume: { quantity: 'volume', range: [0, 0.05], help: 'supports' },
    height: { quantity: 'length', range: [1e-4, 1], help: 'H' },
    layer: { quantity: 'length', range: [5e-6, 2e-4], help: 't' },
    recoatTime: { quantity: 'time', range: [1, 120], help: 'per layer; 7 to 15 s, usually 10', fallback: 10 },
    scanSpeed: { quantity: 'velocity', range: [0.01, 10], help: 'v' },
    hatch: { quantity: 'length', range: [1e-5, 5e-4], help: 'h' },
    efficiency: {
      quantity: 'ratio',
      range: [0.05, 12],
      help: 'real over ideal melt rate of one laser, 0.5 to 0.8, times the lasers',
    },
    overhead: { quantity: 'time', range: [0, 1e6], help: 'inerting, warm-up, cool-down, unloading; 2 to 6 h' },
  },
  output: { quantity: 'time', help: 't = V / (efficiency v h t) + ceil(H/t) recoat + overhead' },
  source: {
    document: 'Gibson, Rosen, Stucker, Additive Manufacturing Technologies',
    clause: 'eq. 16.7 and 16.8',
    trust: 'excerpt',
  },
  examples: [
    {
      inputs: {
        partVolume: 0.00015,
        supportVolume: 3e-5,
        height: 0.12,
        layer: 4e-5,
        recoatTime: 10,
        scanSpeed: 0.96,
        hatch: 0.00011,
        efficiency: 0.7,
        overhead: 10800,
      },
      expected: 101676.62337662338,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '180 cm3, 120 mm high, 40 um layers', trust: 'own' },
    },
  ],
  compute: (build) => derive({ time: buildTime(build) }, ({ time }) => time.total),
});
