import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { deviationSummary } from './deviation-summary.ts';
import { powderCharge } from './powder-charge.ts';
import { printCost } from './print-cost.ts';

describe('deviations', () => {
  it('two are enough, one is not', () => {
    const { count, spread, low, high } = knownValue(deviationSummary([-1e-4, 3e-4]));
    expect(count).toBe(2);
    // Own arithmetic: mean 0.1 mm, squares 2 x 0.04 mm2 over n - 1 = 1; 5 and 95 % of the way.
    expect(spread).toBeCloseTo(Math.sqrt(0.08) * 1e-3, 12);
    expect([low, high].map((at) => Math.round(at * 1e8) / 1e8)).toEqual([-0.8e-4, 2.8e-4]);
    expectRefusal(deviationSummary([1e-4]), 'deviations: expected at least two, got 1');
    expectRefusal(deviationSummary([]), 'deviations: expected at least two, got 0');
  });

  it('the first that is no number is named by its place, counted from one', () => {
    expectRefusal(deviationSummary([Number.NaN, 0, 1]), 'deviations: expected finite values, got NaN at 1');
    expectRefusal(
      deviationSummary([0, 1, Number.POSITIVE_INFINITY, Number.NaN]),
      'deviations: expected finite values, got Infinity at 3',
    );
  });
});

describe('powder', () => {
  const bed = { bedLength: 0.25, bedWidth: 0.2, height: 0.1, density: 8000, packing: 0.5, dosing: 1.5 };

  it('a bed that is all parts has no loose powder', () => {
    const bedVolume = 0.25 * 0.2 * 0.1;
    const charge = knownValue(powderCharge({ ...bed, solidVolume: bedVolume }));
    expect(charge).toMatchObject({ loose: 0, solid: 8000 * bedVolume, total: 8000 * bedVolume });
  });

  it('parts larger than the bed are refused with both volumes', () => {
    const { why } = { why: undefined, ...powderCharge({ ...bed, solidVolume: 0.006 }) };
    expect(why).toMatchObject({ reason: 'inconsistent' });
    expect(JSON.stringify(why)).toMatch(
      /powder-charge: expected parts smaller than the bed \(0\.005\d* m3\), got 0\.006 m3/,
    );
  });
});

// Own arithmetic: 36 h at 80/h; 0.2 L of 8000 kg/m3 is 1.6 kg, bought 1.25 times, at 100/kg.
it('a print costs machine and powder', () => {
  const job = {
    machineTime: 36 * 3600,
    hourlyRate: 80,
    solidVolume: 2e-4,
    density: 8000,
    powderLoss: 1.25,
    powderPrice: 100,
  };
  const { machine, powder, total } = knownValue(printCost(job));
  expect(machine).toBeCloseTo(2880, 9);
  expect(powder).toBeCloseTo(200, 9);
  expect(total).toBeCloseTo(3080, 9);
});
