import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { powderCharge } from './powder-charge.ts';

/** Powder that must be charged for a filled bed, kg. */
export const powderChargeMass = defineFormula({
  id: 'powder-charge-mass',
  title: 'Powder to charge',
  inputs: {
    bedLength: { quantity: 'length', range: [0.02, 1.5], help: 'bed' },
    bedWidth: { quantity: 'length', range: [0.02, 1.5], help: 'bed' },
    height: { quantity: 'length', range: [1e-4, 1], help: 'build height' },
    solidVolume: { quantity: 'volume', range: [0, 0.5], help: 'parts and supports' },
    density: { quantity: 'density', range: [1000, 2e4], help: 'of solid metal' },
    packing: { quantity: 'share', range: [0.3, 0.75], help: 'share of the bed that is metal; 55 to 60 %' },
    dosing: { quantity: 'ratio', range: [1, 3], help: 'powder dosed over laid; 1.3 to 2.0' },
  },
  output: { quantity: 'mass', help: 'm = dosing rho (phi (V_bed - V_solid) + V_solid)' },
  source: { document: 'own balance', trust: 'own' },
  examples: [
    {
      inputs: {
        bedLength: 0.25,
        bedWidth: 0.25,
        height: 0.12,
        solidVolume: 0.00018,
        density: 8440,
        packing: 0.58,
        dosing: 1.5,
      },
      expected: 56.02809599999999,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: 'bed of 250 by 250 by 120 mm of 625', trust: 'own' },
    },
  ],
  compute: (bed) => derive({ powder: powderCharge(bed) }, ({ powder }) => powder.charge),
});
