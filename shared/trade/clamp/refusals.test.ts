import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal, validityTable } from '../../../tests/support/validityTable.ts';
import { dowelHoles } from '../data/dowel-bands.ts';
import { propertyClassKeys } from '../data/property-classes.ts';
import { dowelFit } from './dowel-fit.ts';
import { effectiveGasketWidth, gasketLoads } from './gasket-loads.ts';
import { gasketMeanStress } from './gasket-mean-stress.ts';
import { generalTolerance } from './general-tolerance.ts';
import { hotYieldShare } from './hot-proof-load.ts';
import { gasketStressRange, leverClamp } from './lever-clamp.ts';
import { slidingWedge, slidingWedgeBand } from './sliding-wedge.ts';
import { vBandAxialForce } from './v-band-axial-force.ts';
import { raisedBlock, wedgeBlock } from './wedge-block.ts';
import { wedgeClampForce } from './wedge-clamp-force.ts';

const why = (got: unknown) => JSON.stringify(got);

for (const hole of dowelHoles)
  validityTable({
    name: 'dowel-fit',
    call: ({ diameter }) => dowelFit(diameter, hole),
    good: { diameter: 5e-3 },
    rows: { diameter: ['length', 1e-3, 10e-3] },
  });

for (const key of propertyClassKeys)
  validityTable({
    name: `hot yield of class ${key}`,
    call: ({ temperature }) => hotYieldShare(key, temperature),
    good: { temperature: 400 },
    // Steel classes are tabled to 300 C, stainless ones to 400 C.
    rows: { temperature: ['temperature', 273.15, (key.startsWith('A') ? 400 : 300) + 273.15] },
  });

const steps = [
  [3e-3, 1e-4],
  [6e-3, null],
  [30e-3, 3e-4],
] as const;
validityTable({
  name: 'general-tolerance',
  call: ({ length }) => generalTolerance(steps, length),
  good: { length: 2e-3 },
  rows: { length: ['length', 0.5e-3, 30e-3] },
});

describe('stepped tables', () => {
  it('hold up to and with their bound; a gap of the standard is unknown', () => {
    const at = (length: number) => generalTolerance(steps, length);
    expect([0.5e-3, 3e-3, 6.001e-3, 30e-3].map((length) => knownValue(at(length)))).toEqual([1e-4, 1e-4, 3e-4, 3e-4]);
    for (const length of [3.001e-3, 6e-3])
      expect(at(length)).toMatchObject({ known: false, why: { reason: 'outOfValidity', range: [0.5e-3, 30e-3] } });
    expect(generalTolerance([], 1)).toMatchObject({ known: false, why: { range: [0.5e-3, Number.NaN] } });
  });

  // ISO 286-2, m6 in H7, um: 3 mm -8 to 8, 6 mm -12 to 8, above 6 mm -15 to 9. The bound belongs to the smaller band.
  it.each([
    [1, -8, 8],
    [3, -8, 8],
    [3.01, -12, 8],
    [6, -12, 8],
    [6.01, -15, 9],
    [10, -15, 9],
  ])('dowel of %d mm', (diameter, least, greatest) => {
    const fit = knownValue(dowelFit(diameter * 1e-3, 'H7'));
    expect(fit.least * 1e6).toBeCloseTo(least, 9);
    expect(fit.greatest * 1e6).toBeCloseTo(greatest, 9);
  });
});

describe('gaskets', () => {
  // b = b0 up to 6 mm, then 2.5 sqrt(b0) in mm: at 6.25 mm 2.5 x 2.5, at 16 mm 10. ASME VIII-1 appendix 2, from memory.
  it('effective width', () => {
    expect(knownValue(effectiveGasketWidth(6e-3))).toBe(6e-3);
    expect(knownValue(effectiveGasketWidth(6.25e-3))).toBeCloseTo(6.25e-3, 12);
    expect(knownValue(effectiveGasketWidth(16e-3))).toBeCloseTo(10e-3, 12);
  });

  it('reaction diameter: the mean one of a narrow ring, the outside less twice the width of a wide one', () => {
    const ring = { factor: 2, seatingStress: 1e7, pressure: 1e5 };
    expect(knownValue(gasketLoads({ ...ring, insideDiameter: 0.05, outsideDiameter: 0.074 })).diameter).toBeCloseTo(
      0.062,
      12,
    );
    // b0 = (0.164 - 0.1)/4 = 16 mm, b = 10 mm.
    const wide = knownValue(gasketLoads({ ...ring, insideDiameter: 0.1, outsideDiameter: 0.164 }));
    expect(wide.diameter).toBeCloseTo(0.144, 12);
    expect(wide.seating).toBeCloseTo(Math.PI * 0.01 * 0.144 * 1e7, 6);
  });

  it('a ring inside out or without width is refused', () => {
    const ring = { factor: 2, seatingStress: 1e7, pressure: 1e5, insideDiameter: 0.05 };
    for (const outsideDiameter of [0.05, 0.04]) {
      expectRefusal(
        gasketLoads({ ...ring, outsideDiameter }),
        `gasket-loads: expected an outside diameter above 0.05 m, got ${outsideDiameter} m`,
      );
      expectRefusal(
        gasketMeanStress.evaluate({ clampForce: 1e4, insideDiameter: 0.05, outsideDiameter }),
        `gasket-mean-stress: expected an outside diameter above the inside one (0.05), got ${outsideDiameter}`,
      );
    }
  });

  // A load of 10 kN on 1000 mm2, 5 mm off the middle of 100 mm: 10 MPa and F e c / I = 2.5 MPa either way.
  it('stress range of a strip', () => {
    const load = { force: 1e4, area: 1e-3, eccentricity: 5e-3, halfLength: 0.05, secondMoment: 1e-6 };
    for (const eccentricity of [5e-3, -5e-3]) {
      const [least, most] = knownValue(gasketStressRange({ ...load, eccentricity }));
      expect(least).toBeCloseTo(7.5e6, 3);
      expect(most).toBeCloseTo(12.5e6, 3);
    }
  });
});

describe('wedges and levers', () => {
  const lever = { boltForce: 1e4, boltDistance: 0.05, gasketDistance: 0.03, angle: 0.2, friction: 0.15 };

  it('bolts level with the gasket leave nothing for the ledge, nearer ones are refused', () => {
    expect(knownValue(leverClamp({ ...lever, gasketDistance: 0.05 }))).toMatchObject({ gasket: 1e4, ledge: 0 });
    expectRefusal(
      leverClamp({ ...lever, boltDistance: 0.02 }),
      'lever-clamp: expected bolts at or beyond the gasket resultant (0.03 m), got 0.02 m',
    );
  });

  // atan 0.5 = 26.565 degrees: with 60 degrees it is below upright, with 70 above.
  it('a ledge too steep to slide in', () => {
    const degrees = (angle: number) => leverClamp({ ...lever, friction: 0.5, angle: (angle * Math.PI) / 180 });
    expect(degrees(60).known).toBe(true);
    expect(why(degrees(70))).toMatch(/lever-clamp: expected alpha \+ phi below 90 degrees, got 96\.56505\d*"/);
  });

  it('a wedge too steep to drive', () => {
    const at = (degrees: number) =>
      wedgeClampForce.evaluate({
        drive: 100,
        angle: (degrees * Math.PI) / 180,
        bevelFriction: 0.5,
        backFriction: 0.6,
      });
    expect(at(60).known).toBe(true);
    expect(why(at(70))).toMatch(
      /wedge-clamp-force: expected 0 < alpha \+ phi < 90 degrees, got 96\.56505\d*","paths":\[\]/,
    );
    expect(at(0)).toMatchObject({ known: true });
    expect(why(wedgeClampForce.evaluate({ drive: 100, angle: 0, bevelFriction: 0, backFriction: 0 }))).toContain(
      'expected 0 < alpha + phi < 90 degrees, got 0"',
    );
  });

  it('a groove too steep for a band', () => {
    const at = (friction: number) => vBandAxialForce.evaluate({ bandTension: 1e3, halfAngle: 1.2, friction });
    expect(at(0.3).known).toBe(true);
    expect(why(at(0.5))).toMatch(
      /v-band-axial-force: expected theta \+ phi below 90 degrees, got 95\.319\d*","paths":\[\]/,
    );
  });

  it('below the friction angle the block does not push on the wall; the bolt goes through the bevel alone', () => {
    const block = { boltForce: 1e4, bevelFriction: 0.3, wallFriction: 0.2 };
    // tan 0.2 = 0.2027 < 0.3.
    const held = knownValue(wedgeBlock({ ...block, angle: 0.2 }));
    expect(held).toMatchObject({ gasket: 1e4, wall: 0 });
    expect(held.bevel).toBeCloseTo(1e4 / Math.cos(0.2), 6);
    expect(knownValue(wedgeBlock({ ...block, angle: 0.4 })).wall).toBeGreaterThan(0);
  });

  it('a wedge that cannot lift', () => {
    expectRefusal(
      raisedBlock({ load: 1, angle: 1.2, frictionAngle: 0.5 }),
      'raised-block: expected a wedge that can lift, got 1.2 + 0.5 rad',
    );
  });

  it('a band of friction runs from low to high; each end refuses for itself', () => {
    expectRefusal(
      slidingWedgeBand(1e3, 0.2, [0.2, 0.1]),
      'sliding wedge: expected a friction band low to high, got 0.2 to 0.1',
    );
    expect(slidingWedgeBand(1e3, 0.2, [0.1, 0.1]).known).toBe(true);
    for (const band of [[-0.1, 0.1] as const, [0.1, 0.7] as const])
      expect(slidingWedgeBand(1e3, 0.2, band)).toMatchObject({
        known: false,
        why: { reason: 'outOfValidity', input: 'wedge-clamp-force: bevelFriction' },
      });
  });

  // At alpha = 0 with friction 0 nothing holds and nothing pushes: release 0 is just locked, a hair of angle is not.
  it('locked is where the release force is not below nothing', () => {
    const locked = (angle: number) => knownValue(slidingWedge(1e3, angle, 0.1)).selfLocking;
    // tan(phi - alpha) + tan(phi) = 0 at alpha = 2 phi.
    const limit = 2 * Math.atan(0.1);
    expect([limit - 1e-6, limit + 1e-6].map(locked)).toEqual([true, false]);
  });
});
