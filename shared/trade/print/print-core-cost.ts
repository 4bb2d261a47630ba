import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { printCost } from './print-cost.ts';

/** Machine and powder, the core of a print price, in the currency of the rates; plate, heat treatment, cutting and finishing come on top. */
export const printCoreCost = defineFormula({
  id: 'print-core-cost',
  title: 'Machine and powder cost',
  inputs: {
    machineTime: { quantity: 'time', range: [0, 1e7], help: 'machine' },
    hourlyRate: { quantity: 'ratio', range: [0, 1e5], help: 'money per hour; 40 to 250 EUR' },
    solidVolume: { quantity: 'volume', range: [0, 0.5], help: 'parts and supports' },
    density: { quantity: 'density', range: [1000, 2e4], help: 'of solid metal' },
    powderLoss: { quantity: 'ratio', range: [1, 3], help: 'powder bought over melted' },
    powderPrice: { quantity: 'ratio', range: [0, 1e5], help: 'money per kg; 50 to 400 EUR for 625' },
  },
  output: { quantity: 'ratio', help: 'money = t rate + V rho loss price' },
  source: { document: 'own; the rates are common practice', trust: 'practice' },
  examples: [
    {
      inputs: {
        machineTime: 72000,
        hourlyRate: 80,
        solidVolume: 0.00018,
        density: 8440,
        powderLoss: 1.3,
        powderPrice: 120,
      },
      expected: 1836.9952,
      tolerance: 1e-9,
      source: { document: 'own arithmetic', clause: '20 h at 80, 1.5 kg at 120', trust: 'own' },
    },
  ],
  compute: (job) => derive({ cost: printCost(job) }, ({ cost }) => cost.total),
});
