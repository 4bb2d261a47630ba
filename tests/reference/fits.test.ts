import { describe, expect } from 'vitest';
import { STAY } from '../../shared/geometry/fit/roughFit.ts';
import { fitToSurface } from '../../shared/geometry/fit/surfaceFit.ts';
import { boxMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import { triangleTree } from '../../shared/geometry/mesh/triangleTree.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import type { Vec3 } from '../../shared/geometry/vector.ts';
import { add, perpendicular, rotate, scale, unit } from '../../shared/geometry/vector.ts';
import { type RuptureKey, ruptureKeys, rupturePoints } from '../../shared/trade/data/rupture-points.ts';
import { targetTemperature } from '../../shared/trade/heat/target-temperature.ts';
import { viewFactorShortCylinder } from '../../shared/trade/heat/view-factor-short-cylinder.ts';
import { geometricCircle } from '../../shared/trade/metrology/circle-fit.ts';
import { cylinderFit } from '../../shared/trade/metrology/cylinder-fit.ts';
import { planeFit } from '../../shared/trade/metrology/plane-fit.ts';
import { moved, rigidFit } from '../../shared/trade/metrology/rigid-fit.ts';
import { normalProbability, normalQuantile } from '../../shared/trade/schedule/normal.ts';
import { lifeAtStress, ruptureStress } from '../../shared/trade/strength/rupture.ts';
import { bendArc } from '../../shared/trade/tube/bend-arc.ts';
import { collectorArea } from '../../shared/trade/tube/collector.ts';
import { purgeTime } from '../../shared/trade/weld/purge-time.ts';
import type { Known } from '../../shared/units/known.ts';
import { apart, judgedBy, judgeOf, numbersOf } from './judge.ts';

/** Fits, integrals and roots against SciPy (tests/reference/fits.py), on seeded cases (seed 44). */
const judge = judgeOf('./fits.py', ['scipy', 'numpy']);
const judged = judgedBy(judge);
const random = seededRandom(44);

const between = (low: number, high: number): number => low + (high - low) * random();
const somewhere = (reach: number): Vec3 => [between(-reach, reach), between(-reach, reach), between(-reach, reach)];
const direction = (): Vec3 => unit([between(-1, 1), between(-1, 1), between(0.1, 1)]);
const several = <T>(count: number, make: () => T): readonly T[] => Array.from({ length: count }, make);

function answerOf<T>(known: Known<T>): T {
  if (known.known) return known.value;
  throw new Error(JSON.stringify(known.why));
}

const ask = (kind: string, inputs: readonly unknown[]): readonly (readonly number[])[] =>
  judge.ask(inputs.map((one) => ({ kind, inputs: one }))).map(numbersOf);

/** Largest difference of two lists, in the unit of the lists. */
const off = (ours: readonly number[], theirs: readonly number[] | undefined): number =>
  Math.max(
    ...ours.map((one, i) => Math.abs(one - (theirs?.[i] ?? Number.NaN))),
    ours.length === theirs?.length ? 0 : 1,
  );

/** The same direction or its opposite: a normal and an axis have no sign. */
const alike = (a: readonly number[], b: readonly number[] = []): number =>
  Math.min(
    off(a, b),
    off(
      a,
      b.map((x) => -x),
    ),
  );

describe('fits', () => {
  judged('rigid motion by quaternions and by singular values, noise included (m, 12 sets)', () => {
    const sets = several(12, () => {
      const [axis, angle, shift] = [direction(), between(0.01, 3), somewhere(2)];
      const from = several(3 + Math.floor(10 * random()), () => somewhere(0.5));
      const onto = from.map((p) => add(add(rotate(p, axis, angle), shift), somewhere(2e-4)));
      return { from, onto };
    });
    const theirs = ask('rigid-fit', sets);
    for (const [i, { from, onto }] of sets.entries()) {
      const ours = answerOf(rigidFit(from, onto));
      expect(off([...ours.rotation.flat(), ...ours.translation, ours.angle, ours.rms], theirs[i])).toBeLessThan(1e-9);
      const worst = Math.max(...from.map((p, k) => off(moved(ours, p), onto[k])));
      expect(worst).toBeLessThan(1e-3);
    }
  });

  judged('plane through a rough face, middle, normal, RMS and range (m, 20 faces)', () => {
    const faces = several(20, () => {
      const [normal, middle] = [direction(), somewhere(1)];
      const [u, v] = [perpendicular(normal), rotate(perpendicular(normal), normal, Math.PI / 2)];
      const points = several(4 + Math.floor(30 * random()), () =>
        add(
          middle,
          add(add(scale(u, between(-0.1, 0.1)), scale(v, between(-0.2, 0.2))), scale(normal, between(-1e-4, 1e-4))),
        ),
      );
      return { points };
    });
    const theirs = ask('plane-fit', faces);
    for (const [i, { points }] of faces.entries()) {
      const { centroid, normal, rms, range } = answerOf(planeFit(points));
      expect(off(centroid, theirs[i]?.slice(0, 3))).toBeLessThan(1e-14);
      expect(alike(normal, theirs[i]?.slice(3, 6))).toBeLessThan(1e-10);
      expect(off([rms, range], theirs[i]?.slice(6))).toBeLessThan(1e-13);
    }
  });

  judged('circle of least squared distances, short arcs too (m, 20 circles)', () => {
    const circles = several(20, () => {
      const [x, y, radius, arc] = [between(-1, 1), between(-1, 1), between(0.005, 0.2), between(1, 6.2)];
      const points = several(5 + Math.floor(30 * random()), () => {
        const [phi, r] = [between(0, arc), radius + between(-1e-4, 1e-4)];
        return [x + r * Math.cos(phi), y + r * Math.sin(phi)] as const;
      });
      return { points };
    });
    const theirs = ask('circle-fit', circles);
    for (const [i, { points }] of circles.entries()) {
      const { centre, radius, rms } = answerOf(geometricCircle(points));
      // A search stops where steps no longer pay: half the digits of the parameters, all of the residual.
      expect(off([...centre, radius], theirs[i]?.slice(0, 3))).toBeLessThan(2e-9);
      expect(off([rms], theirs[i]?.slice(3))).toBeLessThan(1e-13);
    }
  });

  judged('cylinder of least squared distances, axis, radius and RMS (m, 12 bores)', () => {
    const bores = several(12, () => {
      const [near, middle, radius] = [direction(), somewhere(0.3), between(0.004, 0.03)];
      const u = perpendicular(near);
      const points = several(20 + Math.floor(30 * random()), () => {
        const out = scale(rotate(u, near, between(0, 6.2)), radius + between(-5e-5, 5e-5));
        return add(add(middle, out), scale(near, between(-0.04, 0.04)));
      });
      return { points, near };
    });
    const theirs = ask('cylinder-fit', bores);
    for (const [i, { points }] of bores.entries()) {
      const { axis, radius, rms } = answerOf(cylinderFit(points));
      expect(alike(axis, theirs[i]?.slice(0, 3))).toBeLessThan(1e-6);
      expect(off([radius], theirs[i]?.slice(3, 4))).toBeLessThan(1e-8);
      expect(off([rms], theirs[i]?.slice(4))).toBeLessThan(1e-12);
    }
  });
});

describe('fits of points on a surface', () => {
  judged('rigid motion onto the faces of a box, noise and all points kept (m, 8 scans)', () => {
    const scans = several(8, () => {
      const size: Vec3 = [between(0.05, 0.2), between(0.05, 0.1), between(0.01, 0.04)];
      const [axis, angle, shift] = [direction(), between(0.002, 0.02), somewhere(5e-4)];
      const points = several(400, () => {
        const face = Math.floor(6 * random());
        const p = size.map((side) => side * between(-0.45, 0.45));
        p[face % 3] = (size[face % 3] ?? 0) * (face < 3 ? 0.5 : -0.5) + between(-1e-4, 1e-4);
        return add(rotate([p[0] ?? 0, p[1] ?? 0, p[2] ?? 0], axis, angle), shift);
      });
      return { size, points };
    });
    const theirs = ask('box-fit', scans);
    for (const [i, { size, points }] of scans.entries()) {
      const tree = triangleTree(boxMesh(size, scale(size, -0.5)));
      const { motion, rms } = fitToSurface(tree, Float64Array.from(points.flat()), STAY, { keep: 1, rounds: 100 });
      const ours = [...motion.rotation.flat(), ...motion.translation];
      expect(off(ours, theirs[i]?.slice(0, 12))).toBeLessThan(1e-7);
      expect(Math.abs(rms - (theirs[i]?.[12] ?? Number.NaN))).toBeLessThan(1e-12);
    }
  });
});

/** Compares numbers one by one, relatively. */
function closeTo(kind: string, inputs: readonly object[], ours: readonly number[], tolerance: number): void {
  const theirs = ask(kind, inputs);
  expect(ours.length).toBe(inputs.length);
  for (const [i, one] of ours.entries())
    expect(apart(one, theirs[i]?.[0]), `${JSON.stringify(inputs[i])}: ours ${one}, theirs ${theirs[i]}`).toBeLessThan(
      tolerance,
    );
}

describe('integrals', () => {
  judged('open area of the bores of a collector, apart and overlapping', () => {
    const inputs = several(24, () => {
      const tubeRadius = between(0.015, 0.03);
      return { tubes: 2 + Math.floor(5 * random()), tubeRadius, ring: between(0, 2) * tubeRadius };
    });
    closeTo(
      'collector-area',
      inputs,
      inputs.map((i) => answerOf(collectorArea(i.tubes, i.tubeRadius, i.ring))),
      1e-8,
    );
  });

  judged('view factor of a cylinder of finite length, over the side that faces back', () => {
    const inputs = several(8, () => {
      const radius = between(0.01, 0.04);
      return { radius, distance: radius * between(1.2, 6), length: between(0.03, 0.4) };
    });
    closeTo(
      'view-factor-short-cylinder',
      inputs,
      inputs.map((i) => answerOf(viewFactorShortCylinder.evaluate(i))),
      1e-7,
    );
  });

  judged('arc length of a bend', () => {
    const inputs = several(20, () => ({ radius: between(0.03, 0.2), angle: between(0.05, 6) }));
    closeTo(
      'arc-length',
      inputs,
      inputs.map((i) => answerOf(bendArc.evaluate(i))),
      1e-12,
    );
  });

  judged('purge followed in time until the target is met', () => {
    const inputs = several(12, () => ({
      volume: between(1e-3, 1e-2),
      flow: between(5e-5, 3e-4),
      target: between(3e-5, 1e-3),
      residual: between(0, 2e-5),
      initial: between(0.1, 0.21),
      deadLegFactor: between(1, 3),
    }));
    closeTo(
      'purge-time',
      inputs,
      inputs.map((i) => answerOf(purgeTime.evaluate(i))),
      1e-8,
    );
  });
});

describe('roots and distributions', () => {
  judged('life under a stress, by a root of the Larson-Miller line; and back to the stress', () => {
    const inputs = several(24, () => {
      const of: RuptureKey = ruptureKeys[Math.floor(random() * ruptureKeys.length)] ?? '625';
      const points = rupturePoints[of].points;
      const [parameters, stresses] = [points.map(([x]) => x), points.map(([, stress]) => stress)];
      const [most = 0, least = 0] = [stresses[0], stresses.at(-1)];
      const stress = least * (most / least) ** between(0.02, 0.98);
      return { of, parameters, stresses, stress, temperature: between(900, 1200) };
    });
    // Read along the points in the order of their parameters; hours over which brentq looks are set by them.
    const ours = inputs.map((i) => answerOf(lifeAtStress(i.of, i.stress, i.temperature)));
    closeTo('life', inputs, ours, 1e-9);
    for (const [i, { of, stress, temperature }] of inputs.entries()) {
      const back = ruptureStress(of, temperature, ours[i] ?? Number.NaN);
      if (back.known) expect(apart(back.value, stress)).toBeLessThan(1e-10);
    }
  });

  judged('temperature of a neighbour in balance', () => {
    const inputs = several(24, () => ({
      irradiation: between(0, 2e4),
      air: between(280, 400),
      emissivity: between(0.1, 0.95),
      faces: random() < 0.5 ? (1 as const) : (2 as const),
      coefficient: between(5, 40),
      back: { coefficient: random() < 0.5 ? 0 : between(100, 2000), temperature: between(290, 380) },
    }));
    closeTo(
      'target-temperature',
      inputs,
      inputs.map(({ irradiation, air, ...t }) => answerOf(targetTemperature(irradiation, t, air))),
      1e-11,
    );
  });

  judged('normal distribution, far into its lower tail, and its inverse', () => {
    const z = several(40, () => ({ z: between(-30, 8) }));
    closeTo(
      'normal',
      z,
      z.map((i) => normalProbability(i.z)),
      1e-12,
    );
    const p = several(40, () => ({ probability: random() < 0.5 ? random() : 10 ** between(-12, -1) }));
    closeTo(
      'quantile',
      p,
      p.map((i) => normalQuantile(i.probability)),
      1e-9,
    );
  });
});
