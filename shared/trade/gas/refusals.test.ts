import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { exhaustComposition, type MoleFractions } from './exhaust-composition.ts';
import { evenIntervals, firingAngles, groupSeparation } from './firing.ts';
import { mixByWilke, mixtureState, mixtureViscosity, speciesViscosity } from './gas-mixture.ts';
import { bestGrouping, groupingOf } from './grouping.ts';
import { mixtureConductivity, speciesConductivity } from './mixture-conductivity.ts';
import { mixtureEnthalpy, speciesEnthalpy } from './mixture-enthalpy.ts';

const turns = 4 * Math.PI;
const only = (shares: Partial<MoleFractions>): MoleFractions => ({
  CO2: 0,
  CO: 0,
  H2O: 0,
  H2: 0,
  O2: 0,
  N2: 0,
  ...shares,
});

describe('firing says what was expected and what came', () => {
  it('order and intervals', () => {
    const even = evenIntervals(4);
    expectRefusal(firingAngles([], []), 'firing order: expected 1 to 12 cylinders, got 0');
    expectRefusal(
      firingAngles(
        Array.from({ length: 13 }, (_, i) => i + 1),
        evenIntervals(13),
      ),
      'firing order: expected 1 to 12 cylinders, got 13',
    );
    expectRefusal(firingAngles([1, 3, 3, 2], even), 'firing order: expected each of 1 to 4 once, got 1-3-3-2');
    expectRefusal(
      firingAngles([1, 3, 4, 2], even.slice(1)),
      'firing intervals: expected 4, one for each cylinder, got 3',
    );
    for (const interval of [0, -1, turns + 0.001, Number.NaN])
      expectRefusal(
        firingAngles([1, 2], [interval, 1]),
        `firing intervals: expected angles above 0 up to 4 pi rad, got ${interval}`,
      );
    expectRefusal(
      firingAngles([1, 2], [1, 2]),
      'firing intervals: expected a sum of 4 pi rad (720 degrees), got 3 rad',
    );
  });

  it('one and twelve cylinders are within; a sum is met to a millionth', () => {
    expect(knownValue(firingAngles([1], [turns]))).toEqual([{ cylinder: 1, angle: 0 }]);
    const twelve = Array.from({ length: 12 }, (_, i) => i + 1);
    expect(knownValue(firingAngles(twelve, evenIntervals(12)))).toHaveLength(12);
    expect(firingAngles([1, 2], [6, turns - 6 + 9e-7]).known).toBe(true);
    expect(firingAngles([1, 2], [6, turns - 6 + 2e-6]).known).toBe(false);
    const angles = knownValue(firingAngles([2, 1, 3], [1, 2, turns - 3]));
    expect(angles).toEqual([
      { cylinder: 2, angle: 0 },
      { cylinder: 1, angle: 1 },
      { cylinder: 3, angle: 3 },
    ]);
  });

  it('groups', () => {
    const even = evenIntervals(4);
    expectRefusal(groupSeparation([]), 'group of cylinders: expected at least one, got none');
    expectRefusal(
      groupSeparation([
        { cylinder: 1, angle: turns },
        { cylinder: 2, angle: 0 },
      ]),
      `group of cylinders: expected angles from 0 to below 4 pi rad, got 0, ${turns}`,
    );
    expectRefusal(
      groupSeparation([{ cylinder: 1, angle: -1 }]),
      'group of cylinders: expected angles from 0 to below 4 pi rad, got -1',
    );
    for (const count of [0, 5, 1.5, Number.NaN])
      expectRefusal(
        bestGrouping([1, 3, 4, 2], even, count),
        `groups of cylinders: expected a whole number from 1 to 4, got ${count}`,
      );
    for (const [groups, came] of [
      [[[1, 4], [2]], '1+4 / 2'],
      [
        [
          [1, 4],
          [2, 3, 3],
        ],
        '1+4 / 2+3+3',
      ],
      [
        [
          [1, 4],
          [2, 2],
        ],
        '1+4 / 2+2',
      ],
      [[[1, 2, 3, 4], []], '1+2+3+4 / '],
    ] as const)
      expectRefusal(
        groupingOf([1, 3, 4, 2], even, groups),
        `groups of cylinders: expected each of 1 to 4 in one group, got ${came}`,
      );
  });

  it('a single pulse has the cycle to itself, two count the gap over the end', () => {
    expect(knownValue(groupSeparation([{ cylinder: 1, angle: 1 }]))).toBe(turns);
    const two = [
      { cylinder: 2, angle: turns - 1 },
      { cylinder: 1, angle: 2 },
    ];
    expect(knownValue(groupSeparation(two))).toBeCloseTo(3, 12);
    const near = [
      { cylinder: 1, angle: 2 },
      { cylinder: 2, angle: 2.5 },
    ];
    expect(knownValue(groupSeparation(near))).toBeCloseTo(0.5, 12);
  });

  it('groups are told by their first cylinder, the worst separation for all', () => {
    const made = knownValue(
      groupingOf([1, 3, 4, 2], evenIntervals(4), [
        [3, 2],
        [4, 1],
      ]),
    );
    expect(made.groups.map(({ cylinders }) => cylinders)).toEqual([
      [1, 4],
      [2, 3],
    ]);
    expect(made.separation).toBeCloseTo(turns / 2, 12);
    const uneven = knownValue(groupingOf([1, 3, 4, 2], evenIntervals(4), [[1, 3], [2], [4]]));
    expect(uneven.groups.map(({ separation }) => separation)).toEqual([turns / 4, turns, turns]);
    expect(uneven.separation).toBeCloseTo(turns / 4, 12);
  });

  // Five even cylinders into two: any trio has 144 degrees at best. Of those splits the pair with 288 degrees wins; sizes 3 and 2 beat 4 and 1.
  it('ties go to even sizes, then to the wider rest, then to the first in order', () => {
    const best = knownValue(bestGrouping([1, 2, 4, 5, 3], evenIntervals(5), 2));
    expect(best.groups.map(({ cylinders }) => cylinders.length).sort()).toEqual([2, 3]);
    const pair = best.groups.find(({ cylinders }) => cylinders.length === 2);
    expect(pair?.separation).toBeCloseTo((2 * turns) / 5, 9);
    // Three even cylinders into two: a pair 240 degrees apart whichever is alone; the first pair in firing order is taken.
    expect(knownValue(bestGrouping([1, 3, 2], evenIntervals(3), 2)).groups.map(({ cylinders }) => cylinders)).toEqual([
      [1, 3],
      [2],
    ]);
  });
});

describe('gas mixtures', () => {
  it('are refused with what is wrong', () => {
    const detail = (came: string) => `gas mixture: expected mole fractions >= 0 that add up to 1, got ${came}`;
    for (const made of [mixtureState, mixtureViscosity, mixtureConductivity, mixtureEnthalpy]) {
      expectRefusal(made(only({ N2: 0.5 }), 600), detail('a sum of 0.5'));
      expectRefusal(made(only({ N2: 1.25, O2: -0.25 }), 600), detail('O2 -0.25'));
      expectRefusal(made(only({ N2: 1, CO: Number.NaN }), 600), detail('CO NaN'));
      expect(made(only({ N2: 0.9995 }), 600).known).toBe(true);
      expect(made(only({ N2: 1.0005 }), 600).known).toBe(true);
      expect(made(only({ N2: 1.0015 }), 600).known).toBe(false);
    }
  });

  it('a single species keeps its own values', () => {
    expect(knownValue(mixtureViscosity(only({ N2: 1 }), 700))).toBeCloseTo(knownValue(speciesViscosity('N2', 700)), 15);
    expect(knownValue(mixtureConductivity(only({ O2: 1 }), 700))).toBeCloseTo(
      knownValue(speciesConductivity('O2', 700)),
      15,
    );
    // Molar mass of nitrogen 28.0134 g/mol.
    expect(knownValue(mixtureEnthalpy(only({ N2: 1 }), 700)) * 28.0134e-3).toBeCloseTo(
      knownValue(speciesEnthalpy('N2', 700)),
      0,
    );
  });

  it('species that are there bind the range, absent ones do not', () => {
    const cold = 350;
    expect(mixtureViscosity(only({ N2: 1 }), cold).known).toBe(true);
    for (const made of [mixtureViscosity, mixtureConductivity])
      expect(made(only({ N2: 0.9, H2O: 0.1 }), cold)).toMatchObject({
        known: false,
        why: { reason: 'outOfValidity', input: 'viscosity of H2O: temperature', range: [373.2, 5000] },
      });
    const reason = speciesEnthalpy('N2', 1);
    expect(mixByWilke(only({ N2: 1 }), 600, () => reason)).toEqual(reason);
    expect(mixtureState(only({ N2: 1 }), 100)).toMatchObject({ why: { input: 'heat capacity of CO2: temperature' } });
    expect(mixtureEnthalpy(only({ N2: 1 }), 100)).toMatchObject({ why: { input: 'enthalpy of CO2: temperature' } });
  });

  it('fits meet at the temperature where the next one takes over', () => {
    for (const gas of ['CO2', 'CO', 'H2O', 'H2', 'O2', 'N2'] as const)
      for (const property of [speciesViscosity, speciesConductivity]) {
        const [at, above] = [knownValue(property(gas, 1000)), knownValue(property(gas, 1000 + 1e-6))];
        expect(Math.abs(above / at - 1)).toBeLessThan(0.03);
      }
  });

  // C8H18 + 12.5 (O2 + 3.773 N2) = 8 CO2 + 9 H2O + 47.1625 N2 at lambda 1: 64.1625 mol.
  it('burned just right leaves neither oxygen nor fuel; each side of it joins on', () => {
    const right = knownValue(exhaustComposition(1));
    expect(right.CO2).toBeCloseTo(8 / 64.1625, 12);
    expect(right.H2O).toBeCloseTo(9 / 64.1625, 12);
    expect(right.N2).toBeCloseTo(47.1625 / 64.1625, 12);
    expect([right.O2, right.CO, right.H2]).toEqual([0, 0, 0]);
    const rich = knownValue(exhaustComposition(1 - 1e-9));
    for (const gas of ['CO2', 'CO', 'H2O', 'H2', 'O2', 'N2'] as const) expect(rich[gas]).toBeCloseTo(right[gas], 4);
    // Twice the air: 12.5 mol of oxygen left, 94.325 of nitrogen, 123.825 in all.
    const lean = knownValue(exhaustComposition(2));
    expect(lean.O2).toBeCloseTo(12.5 / 123.825, 12);
    expect(lean.CO2).toBeCloseTo(8 / 123.825, 12);
  });
});
