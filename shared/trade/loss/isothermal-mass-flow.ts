import { inconsistent } from '../data/validity.ts';
import { defineFormula } from '../formula.ts';

/** Mass flow of an ideal gas through a long tube at constant temperature, kg/s; choked where the flow stops rising with a falling outlet pressure. */
export const isothermalMassFlow = defineFormula({
  id: 'isothermal-mass-flow',
  title: 'Isothermal flow of a gas in a tube',
  inputs: {
    density: { quantity: 'density', range: [0.01, 200], help: 'rho1, density at the inlet' },
    frictionFactor: {
      quantity: 'ratio',
      range: [0.001, 1],
      help: 'f, Darcy friction factor; other losses K as K D/L added',
    },
    inletPressure: { quantity: 'pressure', range: [1e4, 2e7], help: 'p1, absolute' },
    outletPressure: { quantity: 'pressure', range: [1e3, 2e7], help: 'p2, absolute, not above p1' },
    length: { quantity: 'length', range: [1e-3, 1e5], help: 'L, length' },
    bore: { quantity: 'length', range: [1e-3, 2], help: 'D, inside diameter' },
  },
  output: { quantity: 'massFlow', help: 'm^2 = A^2 rho1 (p1^2 - p2^2) / (p1 (f L/D + 2 ln(p1/p2)))' },
  source: {
    document: 'isothermal gas flow, Crane TP-410',
    trust: 'excerpt',
    note: 'read in an open fluid mechanics library (fluids, MIT)',
  },
  examples: [
    {
      inputs: {
        density: 11.3,
        frictionFactor: 0.00185,
        inletPressure: 1e6,
        outletPressure: 9e5,
        length: 1000,
        bore: 0.5,
      },
      expected: 145.4848,
      tolerance: 1e-6,
      source: { document: 'documentation of an open fluid mechanics library (fluids, MIT)', trust: 'excerpt' },
    },
  ],
  compute(i) {
    const ratio = i.outletPressure / i.inletPressure;
    if (ratio > 1)
      return inconsistent(
        `isothermal-mass-flow: expected outletPressure up to inletPressure ${i.inletPressure} Pa, got ${i.outletPressure} Pa`,
      );
    if (ratio === 1) return 0;
    const resistance = (i.frictionFactor * i.length) / i.bore - 2 * Math.log(ratio);
    // Past this point the formula would let the flow fall again as the outlet pressure falls: the tube is choked.
    if (ratio ** 2 * resistance < 1 - ratio ** 2)
      return inconsistent(
        `isothermal-mass-flow: expected an outlet pressure above the choking one, got ${i.outletPressure} Pa`,
      );
    const area = (Math.PI / 4) * i.bore ** 2;
    return area * Math.sqrt((i.density * i.inletPressure * (1 - ratio ** 2)) / resistance);
  },
});
