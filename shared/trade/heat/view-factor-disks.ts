import { defineFormula } from '../formula.ts';

/** Share of what leaves one disk that reaches a coaxial parallel disk, dimensionless. */
export const viewFactorDisks = defineFormula({
  id: 'view-factor-disks',
  title: 'View factor, disk to coaxial disk',
  inputs: {
    from: { quantity: 'length', range: [1e-3, 1], help: 'r1, radius of the disk looked from' },
    to: { quantity: 'length', range: [1e-3, 1], help: 'r2, radius of the disk looked at' },
    gap: { quantity: 'length', range: [1e-3, 5], help: 'L, between them' },
  },
  output: { quantity: 'share', help: 'F12 = (S - sqrt(S^2 - 4 (r2/r1)^2))/2, S = 1 + (1 + R2^2)/R1^2, R = r/L' },
  source: { document: 'any heat transfer text', trust: 'memory' },
  examples: [
    {
      inputs: { from: 0.05, to: 0.05, gap: 0.05 },
      expected: 0.381966,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: 'r1 = r2 = L', trust: 'own' },
    },
    {
      inputs: { from: 0.05, to: 0.05, gap: 0.025 },
      expected: 0.609612,
      tolerance: 1e-6,
      source: { document: 'own arithmetic', clause: 'r 50 mm, gap 25 mm', trust: 'own' },
    },
  ],
  compute({ from, to, gap }) {
    const s = 1 + (1 + (to / gap) ** 2) / (from / gap) ** 2;
    const ratio = (to / from) ** 2;
    // The usual difference of s and the root, turned round so that distant disks keep their digits.
    return (2 * ratio) / (s + Math.sqrt(s ** 2 - 4 * ratio));
  },
});
