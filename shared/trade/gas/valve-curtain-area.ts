import { defineFormula } from '../formula.ts';

/** Curtain area of the lifted valves of a cylinder, m2; the geometric throat only while it is below the seat area. */
export const valveCurtainArea = defineFormula({
  id: 'valve-curtain-area',
  title: 'Valve curtain area',
  inputs: {
    valveDiameter: { quantity: 'length', range: [5e-3, 0.1], help: 'D_v, valve head diameter' },
    lift: { quantity: 'length', range: [0, 0.03], help: 'L_v, lift' },
    valves: { quantity: 'count', range: [1, 4], help: 'exhaust valves of the cylinder', fallback: 1 },
  },
  output: { quantity: 'area', help: 'A = n pi D_v L_v' },
  source: { document: 'geometry', trust: 'own' },
  examples: [
    {
      inputs: { valveDiameter: 30e-3, lift: 10e-3, valves: 2 },
      expected: 2 * 9.424778e-4,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: 'two valves of 30 mm lifted 10 mm', trust: 'own' },
    },
  ],
  compute({ valveDiameter, lift, valves }) {
    return valves * Math.PI * valveDiameter * lift;
  },
});
