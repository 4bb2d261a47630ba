import { defineFormula } from '../formula.ts';
import { plateFlux } from './radiation.ts';

/** Net heat between two large parallel grey plates, W/m2. */
export const greyPlatesFlux = defineFormula({
  id: 'grey-plates-flux',
  title: 'Heat between two grey plates',
  inputs: {
    hotTemperature: { quantity: 'temperature', range: [1, 3000], help: 'T1' },
    hotEmissivity: { quantity: 'ratio', range: [0.001, 1], help: 'e1' },
    coldTemperature: { quantity: 'temperature', range: [1, 3000], help: 'T2' },
    coldEmissivity: { quantity: 'ratio', range: [0.001, 1], help: 'e2' },
  },
  output: { quantity: 'heatFlux', help: 'q = sigma (T1^4 - T2^4) / (1/e1 + 1/e2 - 1)' },
  source: { document: 'any heat transfer text', trust: 'memory' },
  examples: [
    {
      inputs: { hotTemperature: 1000, hotEmissivity: 0.85, coldTemperature: 400, coldEmissivity: 0.9 },
      expected: 42910,
      tolerance: 0.0002,
      source: { document: 'own arithmetic', clause: 'plates 0.85 and 0.9 at 1000 and 400 K', trust: 'own' },
    },
  ],
  compute({ hotTemperature, hotEmissivity, coldTemperature, coldEmissivity }) {
    const hot = { temperature: hotTemperature, emissivity: hotEmissivity };
    return plateFlux(hot, { temperature: coldTemperature, emissivity: coldEmissivity });
  },
});
