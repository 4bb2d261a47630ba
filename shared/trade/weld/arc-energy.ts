import { defineFormula } from '../formula.ts';

/** Arc energy per length of seam, J/m, without efficiency; for steady current (a pulsed arc carries more than mean times mean). */
export const arcEnergy = defineFormula({
  id: 'arc-energy',
  title: 'Arc energy',
  inputs: {
    voltage: { quantity: 'voltage', range: [1, 60], help: 'U, mean arc voltage' },
    current: { quantity: 'current', range: [0.5, 1000], help: 'I, mean welding current' },
    travelSpeed: { quantity: 'velocity', range: [1e-5, 1], help: 'v, travel speed along the seam' },
  },
  output: { quantity: 'heatPerLength', help: 'E = U I / v' },
  source: { document: 'ASME BPVC IX QW-409.1(a)', trust: 'memory', note: 'same formula read in public code' },
  examples: [
    {
      inputs: { voltage: 10, current: 110, travelSpeed: (2 * 0.0254) / 60 },
      expected: 33e3 / 0.0254,
      tolerance: 1e-3,
      source: { document: 'public worked line for a TIG root', clause: 'vector WE-14b: 33.0 kJ/in', trust: 'excerpt' },
    },
    {
      inputs: { voltage: 10, current: 60, travelSpeed: 0.1 / 60 },
      expected: 0.36e6,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-14a: 1.6 mm tube butt', trust: 'own' },
    },
  ],
  compute({ voltage, current, travelSpeed }) {
    return (voltage * current) / travelSpeed;
  },
});
