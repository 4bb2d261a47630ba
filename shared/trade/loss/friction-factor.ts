import { known, unknown } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';

/** Re below which flow is taken as laminar, and from which it is taken as turbulent: between them no formula holds. */
const laminarEnd = 2300;
const turbulentStart = 4000;
/** Validity of the Colebrook equation. */
const largestReynolds = 1e8;

/**
 * Darcy friction factor of a round bore, dimensionless: 64/Re below Re 2300, Colebrook from 4000.
 * Between 2300 and 4000 flow flips between the two states, so the answer there is "outside validity", not a blend.
 */
export const frictionFactor = defineFormula({
  id: 'friction-factor',
  title: 'Darcy friction factor',
  inputs: {
    reynolds: {
      quantity: 'ratio',
      range: [1, largestReynolds],
      help: 'Re, Reynolds number; 2300 to 4000 has no answer',
    },
    relativeRoughness: {
      quantity: 'ratio',
      range: [0, 0.05],
      help: 'epsilon / D, equivalent sand-grain roughness over bore',
    },
  },
  output: { quantity: 'ratio', help: '1/sqrt(f) = -2 log10(eps/(3.7 D) + 2.51/(Re sqrt(f))), on rho u^2/2' },
  source: {
    document: 'Colebrook 1939, as in every fluid mechanics text',
    trust: 'memory',
    note: 'values checked against an open library',
  },
  examples: [
    {
      inputs: { reynolds: 1e5, relativeRoughness: 1e-4 },
      expected: 0.018513866,
      tolerance: 1e-7,
      source: { document: 'documentation of an open fluid mechanics library (fluids, MIT)', trust: 'excerpt' },
    },
    {
      inputs: { reynolds: 1000, relativeRoughness: 0 },
      expected: 0.064,
      tolerance: 1e-12,
      source: { document: 'laminar pipe flow, 64/Re', trust: 'memory' },
    },
  ],
  compute({ reynolds, relativeRoughness }) {
    if (reynolds < laminarEnd) return 64 / reynolds;
    if (reynolds < turbulentStart) {
      const range: readonly [number, number] = [turbulentStart, largestReynolds];
      return unknown({
        reason: 'outOfValidity',
        input: 'friction-factor: reynolds',
        value: reynolds,
        range,
        unit: 'ratio',
      });
    }
    return known(colebrook(reynolds, relativeRoughness));
  },
});

/** Newton's method on x = 1/sqrt(f): g is convex and rising, so from the right of the root it converges monotonically in a few steps. */
function colebrook(reynolds: number, relativeRoughness: number): number {
  const rough = relativeRoughness / 3.7;
  const perX = 2.51 / reynolds;
  let x = 20;
  for (let i = 0; i < 30; i++) {
    const inside = rough + perX * x;
    const g = x + 2 * Math.log10(inside);
    const next = x - g / (1 + (2 * perX) / (Math.LN10 * inside));
    if (Math.abs(next - x) <= 1e-13 * x) return 1 / next ** 2;
    x = next;
  }
  return 1 / x ** 2;
}
