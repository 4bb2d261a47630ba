import { defineFormula } from '../formula.ts';

/** Proof load of a stud or bolt, N, cold. */
export const proofLoad = defineFormula({
  id: 'proof-load',
  title: 'Proof load',
  inputs: {
    stressArea: { quantity: 'area', range: [1e-7, 1e-2], help: 'As, nominal stress area' },
    proofStress: {
      quantity: 'stress',
      range: [1e7, 2e9],
      help: 'Sp, proof stress of the property class; Rp0.2 for stainless',
    },
  },
  output: { quantity: 'force', help: 'F = As Sp' },
  source: { document: 'ISO 898-1', clause: 'proof loads', trust: 'excerpt' },
  examples: [
    {
      inputs: { stressArea: 36.6e-6, proofStress: 830e6 },
      expected: 30400,
      tolerance: 3e-3,
      source: { document: 'ISO 898-1, table of proof loads', clause: 'M8 class 10.9', trust: 'excerpt' },
    },
  ],
  compute({ stressArea, proofStress }) {
    return stressArea * proofStress;
  },
});
