import { defineFormula } from '../formula.ts';

/** Voltage of the conventional load line of tungsten-arc power sources, V; short argon arcs sit 1 to 3 V below it. */
export const arcVoltage = defineFormula({
  id: 'arc-voltage',
  title: 'Arc voltage by the load line',
  inputs: {
    current: { quantity: 'current', range: [0.5, 600], help: 'I' },
  },
  output: { quantity: 'voltage', help: 'U = 10 V + 0.04 V/A I' },
  source: { document: 'IEC 60974-1', clause: 'conventional load, TIG', trust: 'memory' },
  examples: [
    {
      inputs: { current: 60 },
      expected: 12.4,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '60 A', trust: 'own' },
    },
  ],
  compute({ current }) {
    return 10 + 0.04 * current;
  },
});
