import { defineFormula } from '../formula.ts';

/** Diametral clearance a slip joint loses when the inner tube runs hotter than the outer one, m; negative when it gains. */
export const slipJointLoss = defineFormula({
  id: 'slip-joint-loss',
  title: 'Clearance a slip joint loses when hot',
  inputs: {
    diameter: { quantity: 'length', range: [5e-3, 0.3], help: 'd, joint diameter' },
    maleExpansion: { quantity: 'expansion', range: [0, 4e-5], help: 'MEAN coefficient of the inner tube from T0' },
    maleTemperature: { quantity: 'temperature', range: [200, 1500], help: 'inner tube' },
    femaleExpansion: { quantity: 'expansion', range: [0, 4e-5], help: 'MEAN coefficient of the outer tube from T0' },
    femaleTemperature: { quantity: 'temperature', range: [200, 1500], help: 'outer tube' },
    referenceTemperature: {
      quantity: 'temperature',
      range: [200, 400],
      help: 'T0, temperature at which the parts were measured',
      fallback: 293.15,
    },
  },
  output: { quantity: 'length', help: 'loss = d (alpha_m (T_m - T0) - alpha_f (T_f - T0))' },
  source: { document: 'definition of the mean expansion coefficient', trust: 'memory' },
  examples: [
    {
      inputs: {
        diameter: 48.3e-3,
        maleExpansion: 1.57e-5,
        maleTemperature: 850 + 273.15,
        femaleExpansion: 1.44e-5,
        femaleTemperature: 600 + 273.15,
        referenceTemperature: 293.15,
      },
      expected: 0.225996e-3,
      tolerance: 2e-3,
      source: { document: 'own arithmetic', clause: 'vector 5.9: 625, 48.3 mm, 850 and 600 C', trust: 'own' },
    },
  ],
  compute({ diameter, maleExpansion, maleTemperature, femaleExpansion, femaleTemperature, referenceTemperature }) {
    const male = maleExpansion * (maleTemperature - referenceTemperature);
    const female = femaleExpansion * (femaleTemperature - referenceTemperature);
    return diameter * (male - female);
  },
});
