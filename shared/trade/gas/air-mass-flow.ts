import { defineFormula } from '../formula.ts';

/** Specific gas constant of dry air, J/(kg.K) (US Standard Atmosphere 1976: 287.05). */
const airGasConstant = 287.05;

/** Air flow of a four-stroke engine, kg/s, from volumetric efficiency on intake-manifold density. */
export const airMassFlow = defineFormula({
  id: 'air-mass-flow',
  title: 'Air mass flow, four-stroke',
  inputs: {
    displacement: { quantity: 'volume', range: [1e-5, 0.05], help: 'V_d, swept volume of the engine' },
    speed: { quantity: 'rotation', range: [1, 400], help: 'N, crank speed' },
    volumetricEfficiency: { quantity: 'share', range: [0.1, 2], help: 'eta_v, on manifold density' },
    manifoldPressure: { quantity: 'pressure', range: [1e4, 1e6], help: 'p_m, absolute manifold pressure' },
    manifoldTemperature: { quantity: 'temperature', range: [220, 500], help: 'T_m, manifold temperature' },
  },
  output: { quantity: 'massFlow', help: 'm = eta_v p_m / (R_a T_m) V_d N / 2, N in rev/s, R_a = 287.05 J/(kg.K)' },
  source: {
    document: 'Heywood, Internal Combustion Engine Fundamentals',
    clause: 'definition of volumetric efficiency',
    trust: 'memory',
  },
  examples: [
    {
      inputs: {
        displacement: 2e-3,
        speed: 7000 / 60,
        volumetricEfficiency: 1,
        manifoldPressure: 250e3,
        manifoldTemperature: 320,
      },
      expected: 0.317526,
      tolerance: 1e-5,
      source: { document: 'own arithmetic', clause: 'example E-01: 2.0 L, 7000 rev/min, 250 kPa, 320 K', trust: 'own' },
    },
  ],
  compute(i) {
    const density = i.manifoldPressure / (airGasConstant * i.manifoldTemperature);
    return (i.volumetricEfficiency * density * i.displacement * i.speed) / 2;
  },
});
