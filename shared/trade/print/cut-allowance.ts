import { defineFormula } from '../formula.ts';

/** Least height a part must stand above the plate to be cut off, m. */
export const cutAllowance = defineFormula({
  id: 'cut-allowance',
  title: 'Allowance under a part for cutting off',
  inputs: {
    kerf: { quantity: 'length', range: [0, 5e-3], help: 'width of the cut' },
    wander: { quantity: 'length', range: [0, 1e-2], help: 'tilt of the plate or wander of the blade' },
    dressing: { quantity: 'length', range: [0, 1e-2], help: 'removed afterwards to a clean face' },
  },
  output: { quantity: 'length', help: 'allowance = kerf + wander + dressing' },
  source: {
    document: 'own: sum of what is lost',
    trust: 'own',
    note: 'default 3 mm for wire, 4 to 5 mm for a band saw',
  },
  examples: [
    {
      inputs: { kerf: 0.31e-3, wander: 0.5e-3, dressing: 0.5e-3 },
      expected: 1.31e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-10: wire', trust: 'own' },
    },
    {
      inputs: { kerf: 1.3e-3, wander: 1e-3, dressing: 1e-3 },
      expected: 3.3e-3,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-10: band saw', trust: 'own' },
    },
  ],
  compute({ kerf, wander, dressing }) {
    return kerf + wander + dressing;
  },
});
