import { defineFormula } from '../formula.ts';

/** Transverse shrinkage of a butt weld, m, upper estimate. */
export const shrinkageHigh = defineFormula({
  id: 'shrinkage-high',
  title: 'Transverse shrinkage (high)',
  inputs: {
    weldArea: { quantity: 'area', range: [0, 1e-3], help: 'A_w, section of the weld' },
    wall: { quantity: 'length', range: [5e-4, 0.05], help: 't, wall' },
    rootGap: { quantity: 'length', range: [0, 5e-3], help: 'd, root opening' },
  },
  output: { quantity: 'length', help: 'S = 0.20 A_w / t + 0.05 d' },
  source: {
    document: 'welding handbook (Blodgett)',
    clause: 'transverse shrinkage',
    trust: 'memory',
    note: 'a copy with 5.08 and 1.27 is wrong by 25.4',
  },
  examples: [
    {
      inputs: { weldArea: 6.3e-6, wall: 1.6e-3, rootGap: 0 },
      expected: 0.7875e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-18a', trust: 'own' },
    },
  ],
  compute({ weldArea, wall, rootGap }) {
    return (0.2 * weldArea) / wall + 0.05 * rootGap;
  },
});
