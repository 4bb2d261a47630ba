import { defineFormula } from '../formula.ts';

/** How much further the flange grows than the head at a distance from the datum fastener, m; negative when the head grows more. */
export const differentialGrowth = defineFormula({
  id: 'differential-growth',
  title: 'Differential growth of flange against head',
  inputs: {
    flangeExpansion: {
      quantity: 'expansion',
      range: [0, 4e-5],
      help: 'alpha_f, MEAN coefficient of the flange from T0 to its temperature',
    },
    flangeTemperature: { quantity: 'temperature', range: [200, 1500], help: 'T_f, mean flange temperature' },
    headExpansion: {
      quantity: 'expansion',
      range: [0, 4e-5],
      help: 'alpha_h, MEAN coefficient of the head from T0 to its temperature',
    },
    headTemperature: { quantity: 'temperature', range: [200, 700], help: 'T_h, head face temperature' },
    distance: { quantity: 'length', range: [0, 3], help: 'L, distance from the datum fastener' },
    referenceTemperature: {
      quantity: 'temperature',
      range: [200, 400],
      help: 'T0, temperature at which both were drilled',
      fallback: 293.15,
    },
  },
  output: { quantity: 'length', help: 'growth = L (alpha_f (T_f - T0) - alpha_h (T_h - T0))' },
  source: { document: 'definition of the mean expansion coefficient', trust: 'memory' },
  examples: [
    {
      inputs: {
        flangeExpansion: 1.38e-5,
        flangeTemperature: 723.15,
        headExpansion: 2.25e-5,
        headTemperature: 383.15,
        distance: 0.4,
        referenceTemperature: 293.15,
      },
      expected: 1.5636e-3,
      tolerance: 2e-3,
      source: {
        document: 'own arithmetic',
        clause: 'vector 5.2: 625 flange 450 C, aluminium head 110 C, 400 mm',
        trust: 'own',
      },
    },
  ],
  compute(i) {
    const flange = i.flangeExpansion * (i.flangeTemperature - i.referenceTemperature);
    const head = i.headExpansion * (i.headTemperature - i.referenceTemperature);
    return i.distance * (flange - head);
  },
});
