import { defineFormula } from '../formula.ts';

/** Transverse shrinkage of a butt weld, m, lower estimate. */
export const shrinkageLow = defineFormula({
  id: 'shrinkage-low',
  title: 'Transverse shrinkage (low)',
  inputs: {
    weldArea: { quantity: 'area', range: [0, 1e-3], help: 'A_w, section of the weld' },
    wall: { quantity: 'length', range: [5e-4, 0.05], help: 't, wall' },
  },
  output: { quantity: 'length', help: 'S = 0.10 A_w / t' },
  source: {
    document: 'welding handbook (Blodgett)',
    clause: 'transverse shrinkage',
    trust: 'memory',
    note: 'read in a method statement; a copy with 5.08 and 1.27 is wrong by 25.4',
  },
  examples: [
    {
      inputs: { weldArea: 6.3e-6, wall: 1.6e-3 },
      expected: 0.39375e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-18a', trust: 'own' },
    },
  ],
  compute({ weldArea, wall }) {
    return (0.1 * weldArea) / wall;
  },
});
