import { unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Time to purge a well-mixed volume down to a target oxygen concentration, s, times a dead-leg factor. */
export const purgeTime = defineFormula({
  id: 'purge-time',
  title: 'Purge time, well mixed',
  inputs: {
    volume: { quantity: 'volume', range: [1e-7, 10], help: 'V, volume between the dams' },
    flow: { quantity: 'volumeFlow', range: [1e-8, 0.1], help: 'Q, purge gas flow at the pressure of the volume' },
    target: { quantity: 'concentration', range: [1e-6, 0.209], help: 'C, oxygen to reach' },
    residual: { quantity: 'concentration', range: [0, 0.01], help: 'C_s, oxygen in the purge gas', fallback: 1e-5 },
    initial: {
      quantity: 'concentration',
      range: [1e-6, 0.25],
      help: 'C_0, oxygen at the start; air 20.9 %',
      fallback: 0.209,
    },
    deadLegFactor: {
      quantity: 'ratio',
      range: [1, 5],
      help: 'K, 1 for an open path, 1.5 to 3 with dead legs',
      fallback: 1,
    },
  },
  output: { quantity: 'time', help: 't = K V/Q ln((C_0 - C_s) / (C - C_s))' },
  source: {
    document: 'well-mixed dilution balance (stirred tank)',
    trust: 'memory',
    note: 'dead-leg factor is common practice; purge codes give no figure that was read',
  },
  examples: [
    {
      inputs: { volume: 2e-3, flow: 8e-3 / 60, target: 100e-6, residual: 0, initial: 0.209, deadLegFactor: 1 },
      expected: 114.674,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-15b: 2 L at 8 L/min to 100 ppm', trust: 'own' },
    },
  ],
  compute({ volume, flow, target, residual, initial, deadLegFactor }) {
    if (target <= residual) {
      const detail = `purge-time: expected a target above the oxygen in the gas (${residual}), got ${target}: it is never reached`;
      return unknown({ reason: 'inconsistent', detail, paths: [] });
    }
    // Already below the target: no purge time, rather than a negative one.
    if (initial <= target) return 0;
    return ((deadLegFactor * volume) / flow) * Math.log((initial - residual) / (target - residual));
  },
});
