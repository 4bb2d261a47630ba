import { defineFormula } from '../formula.ts';

/** Larson-Miller parameter in kelvin and hours with C = 20, the convention every rupture point here is written in. */
export const larsonMillerParameter = defineFormula({
  id: 'larson-miller-parameter',
  title: 'Larson-Miller parameter (kelvin and hours, C = 20)',
  inputs: {
    temperature: { quantity: 'temperature', range: [473.15, 1473.15], help: 'T, metal temperature' },
    life: { quantity: 'time', range: [3.6, 3.6e9], help: 't, time to rupture; 3.6 s is a thousandth of an hour' },
  },
  output: { quantity: 'ratio', help: 'LMP = T (20 + log10(t / 1 h)), T in K; by convention a plain number' },
  source: {
    document: 'Larson-Miller form, any creep text',
    trust: 'memory',
    note: 'several codes in public use write it so',
  },
  examples: [
    {
      inputs: { temperature: 815.6 + 273.15, life: 3.6e6 },
      expected: 25041.25,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'vector 6.20: 815.6 C, 1000 h', trust: 'own' },
    },
  ],
  compute({ temperature, life }) {
    return temperature * (20 + Math.log10(life / 3600));
  },
});
