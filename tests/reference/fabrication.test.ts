import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import { bendArc } from '../../shared/trade/tube/bend-arc.ts';
import { bendChord } from '../../shared/trade/tube/bend-chord.ts';
import { bendExtradosFactor } from '../../shared/trade/tube/bend-extrados-factor.ts';
import { bendIntradosFactor } from '../../shared/trade/tube/bend-intrados-factor.ts';
import { bendSagitta } from '../../shared/trade/tube/bend-sagitta.ts';
import { bendSetback } from '../../shared/trade/tube/bend-setback.ts';
import { bendWallInside } from '../../shared/trade/tube/bend-wall-inside.ts';
import { bendWallOutside } from '../../shared/trade/tube/bend-wall-outside.ts';
import { collectorArea, collectorSize, collectorTrim, collectorVolume } from '../../shared/trade/tube/collector.ts';
import { copeDepth, copeHole, copeTemplate } from '../../shared/trade/tube/cope.ts';
import { kerfAngle } from '../../shared/trade/tube/kerf-angle.ts';
import { mitreBend, mitreTemplate } from '../../shared/trade/tube/mitre-bend.ts';
import { expectNear, knownValue } from './nearness.ts';

const mm = 1e-3;
const degree = Math.PI / 180;

describe('bends', () => {
  // E-29, own arithmetic and the published thinning rule.
  it('E-29', () => {
    const bend = { radius: 66.75 * mm, angle: Math.PI / 2 };
    const wall = { wall: 1.6 * mm, radius: 66.75 * mm, outsideDiameter: 44.5 * mm };
    expectNear(knownValue(bendArc.evaluate(bend)), 104.851 * mm, 1e-3);
    expectNear(knownValue(bendChord.evaluate(bend)), 94.399 * mm, 1e-3);
    expectNear(knownValue(bendSetback.evaluate(bend)), 66.75 * mm, 1e-3);
    expectNear(knownValue(bendWallOutside.evaluate(wall)), 1.2 * mm, 1e-3);
    expectNear(knownValue(bendWallInside.evaluate(wall)), 2.4 * mm, 1e-3);
    // Chord and sagitta close a right triangle with the radius.
    const sagitta = knownValue(bendSagitta.evaluate(bend));
    const half = knownValue(bendChord.evaluate(bend)) / 2;
    expectNear(half ** 2 + (bend.radius - sagitta) ** 2, bend.radius ** 2, 1e-12);
  });

  // ASME B31.3, from memory: inside and outside factor.
  it.each([
    [1.5, 1.25, 0.875],
    [2, 1.1667, 0.9],
  ])('B31.3 factors at %dD', (tightness, inside, outside) => {
    expectNear(knownValue(bendIntradosFactor.evaluate({ tightness })), inside, 1e-4);
    expectNear(knownValue(bendExtradosFactor.evaluate({ tightness })), outside, 1e-4);
  });

  it('the code factors follow the wall a bend has: outside thinner, inside thicker, both to 1 for a straight', () => {
    let [inside, outside] = [Number.POSITIVE_INFINITY, 0];
    for (const tightness of [1, 1.5, 2, 3, 5, 10, 20]) {
      const [i, o] = [bendIntradosFactor.evaluate({ tightness }), bendExtradosFactor.evaluate({ tightness })];
      expect(knownValue(i)).toBeLessThan(inside);
      expect(knownValue(o)).toBeGreaterThan(outside);
      [inside, outside] = [knownValue(i), knownValue(o)];
    }
    expect(inside).toBeCloseTo(1, 1);
    expect(outside).toBeCloseTo(1, 1);
  });

  // Own arithmetic: 2 mm saw cut at R 66.75 of 44.5 mm tube, centre, outer and inner wall.
  it.each([
    [66.75, 1.717],
    [66.75 + 22.25, 1.288],
    [66.75 - 22.25, 2.575],
  ])('kerf at %d mm', (radius, expected) => {
    expectNear(knownValue(kerfAngle.evaluate({ kerf: 2 * mm, radius: radius * mm })) / degree, expected, 1e-3);
  });
});

describe('pie cuts', () => {
  const bend = { angle: Math.PI / 2, radius: 66.75 * mm, outsideDiameter: 44.5 * mm, convention: 'A' as const };

  // E-30 and the page's row for n = 5, 6, 9, own arithmetic: deflection, saw angle, centre, outer, inner.
  it.each([
    [5, 18, 9, 21.144, 28.192, 14.096],
    [6, 15, 7.5, 17.576, 23.434, 11.717],
    [9, 10, 5, 11.68, 15.573, 7.786],
  ])('%d joints', (count, deflection, saw, centre, outer, inner) => {
    const got = knownValue(mitreBend({ ...bend, count }));
    expectNear(got.deflection / degree, deflection, 1e-9);
    expectNear(got.sawAngle / degree, saw, 1e-9);
    expectNear(got.centre, centre * mm, 1e-3);
    expectNear(got.outer, outer * mm, 1e-3);
    expectNear(got.inner, inner * mm, 1e-3);
    expect([got.fullWedges, got.welds, got.endMismatch]).toEqual([count - 1, count, 0]);
  });

  it('polygon over arc, and what convention B costs', () => {
    expectNear(knownValue(mitreBend({ ...bend, count: 6 })).lengthRatio, 1.00575, 1e-4);
    const got = knownValue(mitreBend({ ...bend, convention: 'B', count: 6 }));
    expect([got.fullWedges, got.welds]).toEqual([6, 7]);
    expectNear(got.endMismatch, 22.25 * mm * (1 / Math.cos(7.5 * degree) - 1), 1e-12);
  });

  it('template runs from half the outer to half the inner length and back', () => {
    const cuts = knownValue(mitreBend({ ...bend, count: 6 }));
    const rows = knownValue(mitreTemplate({ ...bend, count: 6 }, 360));
    expectNear(rows[0]?.[1] ?? Number.NaN, cuts.outer / 2, 1e-12);
    expectNear(rows[180]?.[1] ?? Number.NaN, cuts.inner / 2, 1e-12);
    expectNear(rows[90]?.[1] ?? Number.NaN, cuts.centre / 2, 1e-12);
    expectNear(rows[180]?.[0] ?? Number.NaN, (Math.PI * 44.5 * mm) / 2, 1e-12);
  });

  it('refuses a wedge without an inside and a fraction of a cut', () => {
    for (const bad of [mitreBend({ ...bend, radius: 22.25 * mm, count: 6 }), mitreBend({ ...bend, count: 2.5 })])
      expect(bad).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(mitreBend({ ...bend, count: 0 })).toMatchObject({ known: false, why: { reason: 'outOfValidity' } });
  });
});

describe('copes', () => {
  // E-31, own arithmetic checked by ray and cylinder: r 20.65 in R 22.25 at 90 degrees.
  it.each([
    [0, 22.25],
    [30, 19.7093],
    [60, 13.238],
    [90, 8.2849],
  ])('E-31 at %d degrees', (phi, expected) => {
    const cope = {
      mainRadius: 22.25 * mm,
      outerRadius: 22.25 * mm,
      innerRadius: 20.65 * mm,
      angle: Math.PI / 2,
      offset: 0,
    };
    const got = knownValue(copeDepth(cope, phi * degree));
    expectNear(got.inner, expected * mm, 1e-4);
    // At 90 degrees the inner edge governs everywhere.
    expect(got.governing).toBe(got.inner);
  });

  const slanted = {
    mainRadius: 30 * mm,
    outerRadius: 22.25 * mm,
    innerRadius: 20.65 * mm,
    angle: Math.PI / 4,
    offset: 0,
  };
  // Own arithmetic: at 45 degrees the inner edge governs to 90 degrees, the outer from 135.
  it('45 degrees', () => {
    const at = (phi: number) => knownValue(copeDepth(slanted, phi * degree));
    expectNear(at(0).outer, 20.176 * mm, 1e-4);
    expectNear(at(0).inner, 21.776 * mm, 1e-4);
    expectNear(at(180).outer, 64.676 * mm, 1e-4);
    expectNear(at(180).inner, 63.076 * mm, 1e-4);
    for (const phi of [0, 45, 90]) expect(at(phi).governing).toBe(at(phi).inner);
    for (const phi of [135, 180]) expect(at(phi).governing).toBe(at(phi).outer);
  });

  it('every cut point lies on the main tube, every hole point too, whatever the offset', () => {
    const random = seededRandom(5);
    for (let i = 0; i < 200; i++) {
      const outerRadius = (5 + 15 * random()) * mm;
      const offset = (random() - 0.5) * 18 * mm;
      const cope = {
        mainRadius: 30 * mm,
        outerRadius,
        innerRadius: outerRadius - 1.5 * mm,
        angle: 0.3 + 1.2 * random(),
        offset,
      };
      const phi = 2 * Math.PI * random();
      const t = knownValue(copeDepth(cope, phi)).outer;
      const across = offset + outerRadius * Math.sin(phi);
      const up = t * Math.sin(cope.angle) + outerRadius * Math.cos(phi) * Math.cos(cope.angle);
      expectNear(Math.hypot(across, up), cope.mainRadius, 1e-9);
      const hole = knownValue(copeHole(cope, 36));
      expect(hole).toHaveLength(36);
      for (const [, y] of hole) expect(Math.abs(y)).toBeLessThanOrEqual(cope.mainRadius);
    }
  });

  it('the hole of a square branch is as long as its bore', () => {
    const hole = knownValue(copeHole({ ...slanted, angle: Math.PI / 2 }, 360));
    const along = hole.map(([x]) => x);
    expectNear(Math.max(...along) - Math.min(...along), 2 * 20.65 * mm, 1e-9);
  });

  it('a template starts at 0 height somewhere and closes after one turn', () => {
    const rows = knownValue(copeTemplate(slanted, 72, 0.1 * mm));
    expect(Math.min(...rows.map(([, y]) => y))).toBe(0);
    expectNear(rows.at(-1)?.[0] ?? Number.NaN, 2 * Math.PI * 22.3 * mm, 1e-12);
    expect(rows.at(-1)?.[1]).toBeCloseTo(rows[0]?.[1] ?? Number.NaN, 12);
  });

  it('refuses a branch that sticks out of the main and walls inside out', () => {
    for (const bad of [
      copeDepth({ ...slanted, offset: 10 * mm }, 0),
      copeDepth({ ...slanted, innerRadius: 23 * mm }, 0),
      copeDepth(slanted, Number.NaN),
    ])
      expect(bad).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

describe('collectors', () => {
  const od = 44.5 * mm;
  // Own arithmetic, page section 4.4: tubes, half angle, outlet, pitch radius, bundle, length.
  it.each([
    [3, 7.5, 60.3, 25.692, 95.88, 135.1],
    [4, 7.5, 63.5, 31.466, 107.43, 166.9],
    [4, 10, 63.5, 31.466, 107.43, 124.6],
    [5, 7.5, 76.2, 37.854, 120.21, 167.1],
    [6, 7.5, 76.2, 44.5, 133.5, 217.6],
  ])('%d tubes, %d degrees', (tubes, halfAngle, outlet, pitch, bundle, length) => {
    const got = knownValue(
      collectorSize({ tubes, halfAngle: halfAngle * degree, tubeRadius: od / 2, outletDiameter: outlet * mm }),
    );
    expectNear(got.pitchRadius, pitch * mm, 1e-4);
    expectNear(got.bundleDiameter, bundle * mm, 1e-3);
    expectNear(got.length, length * mm, 1e-3);
  });

  const four = { tubes: 4, halfAngle: 7.5 * degree, tubeRadius: od / 2, outletDiameter: 63.5 * mm };
  // E-33, own arithmetic: length and trim at 180, 135, 90, 45, 0 degrees.
  it('E-33', () => {
    expectNear(knownValue(collectorSize(four)).length, 166.85 * mm, 1e-4);
    for (const [phi, trim] of [
      [180, 72.07],
      [135, 1.03],
      [90, 70.61],
      [45, 240.04],
      [0, 410.08],
    ] as const)
      expect(Math.abs(knownValue(collectorTrim(four, phi * degree)) / mm - trim)).toBeLessThan(0.01);
  });

  it('a trimmed point lies on the plane between neighbours', () => {
    const { pitchRadius } = knownValue(collectorSize(four));
    const r = od / 2;
    for (let phi = 0; phi < 2 * Math.PI; phi += 0.1) {
      const s = knownValue(collectorTrim(four, phi));
      const outwards = pitchRadius + r * Math.cos(phi) * Math.cos(four.halfAngle) - s * Math.sin(four.halfAngle);
      expect(Math.abs(outwards - Math.abs(r * Math.sin(phi)) / Math.tan(Math.PI / 4))).toBeLessThan(1e-12);
    }
  });

  // Own arithmetic with Monte Carlo beside it, mm2: tubes, ring radius, area, sampled area.
  it.each([
    [4, 10, 2564, 2564.7],
    [3, 18, 3336, 3337.8],
    [4, 24, 4679, 4679.4],
  ])('area of %d bores on ring %d', (tubes, ring, area, sampled) => {
    const got = knownValue(collectorArea(tubes, 20 * mm, ring * mm)) * 1e6;
    expectNear(got, area, 1e-4);
    expectNear(got, sampled, 1e-3);
  });

  it.each([2, 3, 4, 5, 6])('%d bores: one bore when merged, all when apart, never less for a wider ring', (tubes) => {
    const r = 20 * mm;
    const one = Math.PI * r ** 2;
    expectNear(knownValue(collectorArea(tubes, r, 0)), one, 1e-6);
    expectNear(knownValue(collectorArea(tubes, r, r / Math.sin(Math.PI / tubes))), tubes * one, 1e-9);
    let before = 0;
    for (let ring = 0; ring <= r / Math.sin(Math.PI / tubes); ring += r / 50) {
      const area = knownValue(collectorArea(tubes, r, ring));
      expect(area).toBeGreaterThanOrEqual(before * (1 - 1e-6));
      before = area;
    }
  });

  it('counts points of five and six bores on a ring wider than a bore as a seeded sample does', () => {
    const random = seededRandom(9);
    for (const [tubes, ring] of [
      [5, 1.02],
      [6, 1.1],
    ] as const) {
      let inside = 0;
      const draws = 60_000;
      const half = ring + 1;
      for (let i = 0; i < draws; i++) {
        const [x, y] = [(2 * random() - 1) * half, (2 * random() - 1) * half];
        const hit = Array.from({ length: tubes }, (_, k) => (2 * Math.PI * k) / tubes).some(
          (a) => Math.hypot(x - ring * Math.cos(a), y - ring * Math.sin(a)) < 1,
        );
        if (hit) inside++;
      }
      expectNear(
        knownValue(collectorArea(tubes, 0.02, ring * 0.02)) / 0.02 ** 2,
        (inside / draws) * 4 * half ** 2,
        0.01,
      );
    }
  });

  // Own arithmetic: four bores of 41.3 mm into 60.3 mm at 7.5 degrees.
  it('volume', () => {
    const bores = { tubes: 4, halfAngle: 7.5 * degree, tubeRadius: (41.3 * mm) / 2, outletDiameter: 60.3 * mm };
    expectNear(knownValue(collectorSize(bores)).length, 149.7 * mm, 1e-3);
    expectNear(knownValue(collectorVolume(bores)), 617.4e-6, 1e-3);
  });

  it('refuses an outlet as wide as the bundle, a fraction of a tube and one tube', () => {
    for (const [change, reason] of [
      [{ outletDiameter: 120 * mm }, 'inconsistent'],
      [{ tubes: 3.5 }, 'inconsistent'],
      [{ tubes: 1 }, 'outOfValidity'],
      [{ halfAngle: 0 }, 'outOfValidity'],
    ] as const) {
      for (const got of [
        collectorSize({ ...four, ...change }),
        collectorTrim({ ...four, ...change }, 0),
        collectorVolume({ ...four, ...change }),
      ])
        expect(got).toMatchObject({ known: false, why: { reason } });
    }
  });
});
