import { defineFormula } from '../formula.ts';

/** Free thermal growth of a length from the temperature its mean coefficient is referred to, m; negative when it gets colder. */
export const freeGrowth = defineFormula({
  id: 'free-growth',
  title: 'Free thermal growth',
  inputs: {
    expansion: {
      quantity: 'expansion',
      range: [0, 4e-5],
      help: 'alpha, MEAN coefficient from the reference temperature to the temperature',
    },
    length: { quantity: 'length', range: [0, 10], help: 'L, length when cold' },
    temperature: { quantity: 'temperature', range: [200, 1500], help: 'T, metal temperature' },
    referenceTemperature: {
      quantity: 'temperature',
      range: [200, 400],
      help: 'T0, temperature at which L was measured',
      fallback: 293.15,
    },
  },
  output: { quantity: 'length', help: 'growth = alpha L (T - T0)' },
  source: { document: 'definition of the mean expansion coefficient', trust: 'memory' },
  examples: [
    {
      inputs: { expansion: 1.2e-5, length: 2, temperature: 353.15, referenceTemperature: 283.15 },
      expected: 1.68e-3,
      tolerance: 1e-6,
      source: {
        document: 'university course note on thermal stress',
        clause: 'vector 5.5: strain 0.00084 printed, 2 m bar',
        trust: 'excerpt',
      },
    },
    {
      inputs: { expansion: 10.8e-6, length: 0.2, temperature: 523.15, referenceTemperature: 298.15 },
      expected: 0.486e-3,
      tolerance: 1e-6,
      source: {
        document: 'Bhandari, machine design textbook, example 4.22',
        clause: 'tube 200 mm, 25 to 250 C',
        trust: 'excerpt',
      },
    },
  ],
  compute({ expansion, length, temperature, referenceTemperature }) {
    return expansion * length * (temperature - referenceTemperature);
  },
});
