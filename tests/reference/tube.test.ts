import { describe, expect, it } from 'vitest';
import { bendTightness } from '../../shared/trade/tube/bend-tightness.ts';
import { bendWallOutside } from '../../shared/trade/tube/bend-wall-outside.ts';
import { expectNear, knownValue } from './nearness.ts';

const mm = 1e-3;

describe('bends', () => {
  // Example E-29, tube bending trade pages: 1.5D bend of 44.5 mm tube, wall 1.6 mm leaves 1.200 mm outside.
  it('E-29', () => {
    expectNear(knownValue(bendTightness.evaluate({ radius: 66.75 * mm, outsideDiameter: 44.5 * mm })), 1.5, 1e-12);
    expectNear(
      knownValue(bendWallOutside.evaluate({ wall: 1.6 * mm, radius: 66.75 * mm, outsideDiameter: 44.5 * mm })),
      1.2 * mm,
      1e-3,
    );
  });

  // Same pages: share of wall lost outside at 1D, 1.5D, 2D and 3D.
  it.each([
    [1, 0.333],
    [1.5, 0.25],
    [2, 0.2],
    [3, 0.143],
  ])('%dD', (tightness, lost) => {
    const left = knownValue(
      bendWallOutside.evaluate({ wall: 2 * mm, radius: tightness * 40 * mm, outsideDiameter: 40 * mm }),
    );
    expectNear(1 - left / (2 * mm), lost, 2e-3);
  });

  it('a radius inside the tube itself is outside validity', () => {
    expect(bendWallOutside.evaluate({ wall: 2 * mm, radius: 19 * mm, outsideDiameter: 40 * mm }).known).toBe(false);
  });
});
