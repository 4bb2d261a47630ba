import { defineFormula } from '../formula.ts';

/** Length the model must have to come out right, m. */
export const scaledLength = defineFormula({
  id: 'scaled-length',
  title: 'Model length with shrink scaling',
  inputs: {
    length: { quantity: 'length', range: [0, 2], help: 'L, nominal length' },
    factor: {
      quantity: 'ratio',
      range: [0.98, 1.02],
      help: 'scale that makes up for shrinking; calibrate on the machine',
    },
  },
  output: { quantity: 'length', help: 'L factor' },
  source: { document: 'definition', trust: 'own', note: '1.0017 was published for AlSi10Mg only' },
  examples: [
    {
      inputs: { length: 180e-3, factor: 1.0017 },
      expected: 180.306e-3,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'vector WE-08', trust: 'own' },
    },
  ],
  compute({ length, factor }) {
    return length * factor;
  },
});
