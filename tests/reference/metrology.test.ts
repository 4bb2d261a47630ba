import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import { arcChordError } from '../../shared/trade/metrology/arc-chord-error.ts';
import { algebraicCircle, geometricCircle, type PlanePoint } from '../../shared/trade/metrology/circle-fit.ts';
import { combinedUncertainty, conformity, guardFactor1998 } from '../../shared/trade/metrology/conformity.ts';
import { cylinderFit } from '../../shared/trade/metrology/cylinder-fit.ts';
import { type DatumFeatures, datumFrame, inFrame } from '../../shared/trade/metrology/datum-frame.ts';
import { deviationStatistics } from '../../shared/trade/metrology/deviation-statistics.ts';
import { fiducialRegistrationError } from '../../shared/trade/metrology/fiducial-registration-error.ts';
import { flatness, planeFit } from '../../shared/trade/metrology/plane-fit.ts';
import { type PressureDecay, pressureDecayLeak } from '../../shared/trade/metrology/pressure-decay-leak.ts';
import { moved, type RigidFit, rigidFit } from '../../shared/trade/metrology/rigid-fit.ts';
import { targetRegistrationError } from '../../shared/trade/metrology/target-registration-error.ts';
import { across, along, cross, dot, minus, norm, unit, type Vec } from '../../shared/trade/metrology/vector.ts';
import { normalQuantile } from '../../shared/trade/schedule/normal.ts';
import type { Random } from '../../shared/trade/schedule/simulation.ts';
import { expectNear, knownValue } from './nearness.ts';

const degrees = Math.PI / 180;
const normal = (random: Random) => normalQuantile(Math.max(random(), 1e-12));
const somewhere = (random: Random, size: number): Vec => [
  size * (random() - 0.5),
  size * (random() - 0.5),
  size * (random() - 0.5),
];
const direction = (random: Random): Vec => unit([normal(random), normal(random), normal(random)]) ?? [0, 0, 1];
/** A turn about a random axis and a shift. */
function motion(random: Random): Pick<RigidFit, 'rotation' | 'translation'> {
  const z = direction(random);
  const [x, y] = across(z);
  const turn = 6 * random();
  const c = along([Math.cos(turn) * x[0], Math.cos(turn) * x[1], Math.cos(turn) * x[2]], Math.sin(turn), y);
  return { rotation: [c, cross(z, c), z], translation: somewhere(random, 2) };
}
const move = (m: Pick<RigidFit, 'rotation' | 'translation'>, p: Vec): Vec =>
  along([dot(m.rotation[0], p), dot(m.rotation[1], p), dot(m.rotation[2], p)], 1, m.translation);

describe('rigid fit', () => {
  const from: readonly Vec[] = [
    [0, 0, 0],
    [100, 0, 0],
    [0, 80, 0],
    [0, 0, 60],
  ];
  const onto: readonly Vec[] = [
    [10.05, -5, 1.98],
    [96.573, 45.04, 2],
    [-30, 64.232, 2.03],
    [10.02, -4.99, 61.96],
  ];

  // Own with an independent SVD, example E-41.
  it('E-41 four points', () => {
    const fit = knownValue(rigidFit(from, onto));
    const row = [0.8657046, -0.50055523, 3.107e-5];
    const shift = [10.028773, -5.002977, 1.983925];
    const left = [0.02179, 0.02932, 0.03581, 0.04054];
    for (const i of [0, 1, 2] as const) {
      expect(Math.abs(fit.rotation[0][i] - (row[i] ?? Number.NaN))).toBeLessThan(1e-7);
      expect(Math.abs(fit.translation[i] - (shift[i] ?? Number.NaN))).toBeLessThan(1e-5);
    }
    for (const [i, r] of fit.residuals.entries()) expect(Math.abs(r - (left[i] ?? Number.NaN))).toBeLessThan(1e-5);
    expect(Math.abs(fit.rms - 0.0326354)).toBeLessThan(1e-6);
    expect(Math.abs(fit.angle / degrees - 30.03675)).toBeLessThan(1e-5);
    expect(Math.abs(fit.scale - 1)).toBeLessThan(1e-3);
  });

  it('recovers any motion exactly, never a mirror image', () => {
    const random = seededRandom(21);
    for (let i = 0; i < 100; i++) {
      const points = Array.from({ length: 3 + Math.floor(10 * random()) }, () => somewhere(random, 1));
      const m = motion(random);
      const fit = knownValue(
        rigidFit(
          points,
          points.map((p) => move(m, p)),
        ),
      );
      expect(fit.rms).toBeLessThan(1e-9);
      expect(dot(fit.rotation[0], cross(fit.rotation[1], fit.rotation[2]))).toBeCloseTo(1, 12);
      const probe = somewhere(random, 3);
      expect(norm(minus(moved(fit, probe), move(m, probe)))).toBeLessThan(1e-6);
      const mirrored = rigidFit(
        points,
        points.map(([x, y, z]): Vec => [-x, y, z]),
      );
      if (mirrored.known) {
        const r = mirrored.value.rotation;
        expect(dot(r[0], cross(r[1], r[2]))).toBeCloseTo(1, 12);
      }
    }
  });

  it('tells wrong units by the scale', () => {
    const inches = knownValue(
      rigidFit(
        from,
        from.map(([x, y, z]): Vec => [x / 25.4, y / 25.4, z / 25.4]),
      ),
    );
    expectNear(inches.scale, 1 / 25.4, 1e-9);
  });

  it.each<[string, readonly Vec[], readonly Vec[]]>([
    ['two pairs', from.slice(0, 2), onto.slice(0, 2)],
    ['unequal lists', from, onto.slice(1)],
    [
      'points on a line',
      [
        [0, 0, 0],
        [1, 1, 1],
        [3, 3, 3],
      ],
      [
        [0, 0, 0],
        [1, 0, 0],
        [3, 0, 0],
      ],
    ],
    [
      'one place',
      [
        [1, 1, 1],
        [1, 1, 1],
        [1, 1, 1],
      ],
      [
        [0, 0, 0],
        [1, 0, 0],
        [0, 1, 0],
      ],
    ],
    [
      'no number',
      [
        [0, 0, Number.NaN],
        [1, 0, 0],
        [0, 1, 0],
      ],
      from.slice(0, 3),
    ],
  ])('%s: unknown', (_name, a, b) => {
    expect(rigidFit(a, b)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });

  // Fitzpatrick, West and Maurer 1998, from memory, against 4000 seeded registrations.
  it('residual and target error meet the expected ones', () => {
    const random = seededRandom(33);
    const marks: readonly Vec[] = [
      [0, 0, 0],
      [0.3, 0, 0],
      [0.3, 0.2, 0.05],
      [0, 0.2, 0.1],
      [0.15, 0.1, 0.2],
    ];
    const target: Vec = [0.6, -0.1, 0.1];
    const fle = 1e-3;
    let [fre, tre] = [0, 0];
    const runs = 4000;
    for (let i = 0; i < runs; i++) {
      const noisy = marks.map(
        (p): Vec => along(p, fle / Math.sqrt(3), [normal(random), normal(random), normal(random)]),
      );
      const fit = knownValue(rigidFit(noisy, marks));
      fre += fit.rms ** 2 / runs;
      tre += norm(minus(moved(fit, target), target)) ** 2 / runs;
    }
    expectNear(
      Math.sqrt(fre),
      knownValue(fiducialRegistrationError.evaluate({ localisationError: fle, points: 5 })),
      0.03,
    );
    expectNear(Math.sqrt(tre), knownValue(targetRegistrationError(marks, target, fle)), 0.04);
  });

  it('target error is least at the middle of the marks and grows away from them; marks on a line have none', () => {
    const marks: readonly Vec[] = [
      [0, 0, 0],
      [0.3, 0, 0],
      [0.3, 0.2, 0],
      [0, 0.2, 0],
    ];
    const at = (x: number) => knownValue(targetRegistrationError(marks, [x, 0.1, 0], 1e-3));
    expectNear(at(0.15), 1e-3 / 2, 1e-9);
    for (let x = 0.15; x < 2; x += 0.1) expect(at(x + 0.1)).toBeGreaterThan(at(x));
    expect(
      targetRegistrationError(
        [
          [0, 0, 0],
          [1, 0, 0],
          [2, 0, 0],
        ],
        [0, 1, 0],
        1e-3,
      ).known,
    ).toBe(false);
    expect(targetRegistrationError(marks, [Number.NaN, 0, 0], 1e-3).known).toBe(false);
    expect(targetRegistrationError(marks, [0, 0, 0], -1)).toMatchObject({
      known: false,
      why: { reason: 'outOfValidity' },
    });
  });
});

describe('plane', () => {
  const points: readonly Vec[] = [
    [0, 0, 0.02],
    [100, 0, -0.01],
    [100, 80, 0.03],
    [0, 80, 0],
    [50, 40, -0.02],
    [25, 60, 0.01],
  ];
  // Own with an independent program, example E-43.
  it('E-43 six points of a face', () => {
    const plane = knownValue(planeFit(points));
    const middle = [45.8333, 43.3333, 0.005];
    for (const i of [0, 1, 2] as const)
      expect(Math.abs(plane.centroid[i] - (middle[i] ?? Number.NaN))).toBeLessThan(5e-5);
    expect(Math.abs(plane.rms - 0.016478)).toBeLessThan(1e-6);
    expect(Math.abs(plane.range - 0.045)).toBeLessThan(5e-5);
    expect(knownValue(flatness(points))).toBe(plane.range);
    expect(plane.normal[2]).toBeGreaterThan(0.99);
  });

  it('is carried along by any motion, and no tilt of it fits better', () => {
    const random = seededRandom(22);
    for (let i = 0; i < 40; i++) {
      const face = Array.from({ length: 12 }, (): Vec => [random(), random(), 0.01 * normal(random)]);
      const m = motion(random);
      const [plane, carried] = [knownValue(planeFit(face)), knownValue(planeFit(face.map((p) => move(m, p))))];
      expectNear(carried.range, plane.range, 1e-6);
      expectNear(carried.rms, plane.rms, 1e-6);
      const tilted = unit(along(plane.normal, 0.01, direction(random))) ?? plane.normal;
      const worse = Math.hypot(...face.map((p) => dot(minus(p, plane.centroid), tilted))) / Math.sqrt(12);
      expect(worse).toBeGreaterThanOrEqual(plane.rms);
    }
  });

  it.each<[string, readonly Vec[]]>([
    ['two points', points.slice(0, 2)],
    [
      'points on a line',
      [
        [0, 0, 0],
        [1, 2, 3],
        [2, 4, 6],
        [-1, -2, -3],
      ],
    ],
    [
      'one place',
      [
        [1, 1, 1],
        [1, 1, 1],
        [1, 1, 1],
        [1, 1, 1],
      ],
    ],
    [
      'no number',
      [
        [0, 0, 0],
        [1, 0, Number.POSITIVE_INFINITY],
        [0, 1, 0],
        [1, 1, 0],
      ],
    ],
  ])('%s: unknown', (_name, list) => {
    expect(planeFit(list)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(flatness(list)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });

  it('three points are always flat, so they do not show flatness', () => {
    expect(flatness(points.slice(0, 3))).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

describe('circle', () => {
  // Gander, Golub and Strebel 1994, from memory, both fits reproduced by an independent program: example E-42.
  const gander: readonly PlanePoint[] = [
    [1, 7],
    [2, 6],
    [5, 8],
    [7, 7],
    [9, 5],
    [3, 7],
  ];
  it('E-42 six points', () => {
    const kasa = knownValue(algebraicCircle(gander));
    expectNear(kasa.centre[0], 4.7423, 1e-5);
    expectNear(kasa.centre[1], 3.8351, 1e-5);
    expectNear(kasa.radius, 4.1088, 1e-5);
    const fit = knownValue(geometricCircle(gander));
    expectNear(fit.centre[0], 4.7398, 1e-5);
    expectNear(fit.centre[1], 2.9835, 2e-5);
    expectNear(fit.radius, 4.7142, 1e-5);
    expectNear(
      fit.residuals.reduce((sum, r) => sum + r * r, 0),
      1.2276,
      1e-4,
    );
  });

  it('three points lie on theirs; the short arc shows', () => {
    const fit = knownValue(
      geometricCircle([
        [1, 0],
        [0, 1],
        [-1, 0],
      ]),
    );
    expectNear(fit.radius, 1, 1e-9);
    expect(fit.radiusDeviation).toBeNull();
    expectNear(fit.arc, Math.PI, 1e-9);
  });

  it('noise moves the radius by what the covariance says, and far more on a short arc', () => {
    const spread = (half: number) => {
      const random = seededRandom(40);
      let [squares, told] = [0, 0];
      for (let i = 0; i < 300; i++) {
        const points = Array.from({ length: 40 }, (_, k): PlanePoint => {
          const [a, r] = [half * (k / 19.5 - 1), 20 + 0.02 * normal(random)];
          return [r * Math.cos(a), r * Math.sin(a)];
        });
        const fit = knownValue(geometricCircle(points));
        squares += (fit.radius - 20) ** 2 / 300;
        told += (fit.radiusDeviation ?? Number.NaN) / 300;
      }
      expectNear(Math.sqrt(squares), told, 0.15);
      return told;
    };
    expect(spread(30 * degrees)).toBeGreaterThan(5 * spread(90 * degrees));
  });

  it.each<[string, readonly PlanePoint[]]>([
    [
      'two points',
      [
        [0, 0],
        [1, 1],
      ],
    ],
    [
      'points on a line',
      [
        [0, 0],
        [1, 1],
        [2, 2],
        [5, 5],
      ],
    ],
    [
      'one place',
      [
        [1, 1],
        [1, 1],
        [1, 1],
      ],
    ],
    [
      'no number',
      [
        [0, 0],
        [1, Number.NaN],
        [2, 1],
      ],
    ],
  ])('%s: unknown', (_name, list) => {
    expect(algebraicCircle(list)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
    expect(geometricCircle(list)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

describe('cylinder', () => {
  /** Points of a cylinder of radius `r` and length `l` about a random axis, over `arc`, with noise. */
  function shell(random: Random, [r, l, arc, noise]: readonly [number, number, number, number], count = 60) {
    const axis = direction(random);
    const [u, v] = across(axis);
    const middle = somewhere(random, 1);
    const points = Array.from({ length: count }, (): Vec => {
      const [a, radius] = [arc * random(), r + noise * normal(random)];
      const round = along(along(middle, radius * Math.cos(a), u), radius * Math.sin(a), v);
      return along(round, l * (random() - 0.5), axis);
    });
    return { axis, middle, points };
  }

  it.each([
    [0.0222, 0.2, 2 * Math.PI],
    [0.0222, 0.01, 2 * Math.PI],
    [0.004, 0.003, 2 * Math.PI],
    [0.03, 0.03, Math.PI],
    [0.5, 0.05, 2],
  ])('finds radius %d, length %d, arc %d wherever it lies', (r, l, arc) => {
    const random = seededRandom(50);
    for (let i = 0; i < 25; i++) {
      const { axis, middle, points } = shell(random, [r, l, arc, 0]);
      const fit = knownValue(cylinderFit(points));
      expectNear(fit.radius, r, 1e-6);
      expect(Math.abs(dot(fit.axis, axis))).toBeGreaterThan(1 - 1e-9);
      const off = minus(fit.centre, middle);
      expect(norm(along(off, -dot(off, fit.axis), fit.axis))).toBeLessThan(1e-6 * r);
      expect(fit.rms).toBeLessThan(1e-9);
      expect(fit.arc).toBeLessThanOrEqual(arc + 1e-6);
    }
  });

  it('with noise: radius within the deviation it states, residuals no worse than the true cylinder', () => {
    const random = seededRandom(51);
    let outside = 0;
    for (let i = 0; i < 100; i++) {
      const { points } = shell(random, [0.02, 0.1, 5, 2e-5], 80);
      const fit = knownValue(cylinderFit(points));
      if (Math.abs(fit.radius - 0.02) > 2 * (fit.radiusDeviation ?? 0)) outside += 1;
      expect(fit.rms).toBeLessThan(3e-5);
    }
    expect(outside).toBeLessThan(12);
  });

  it.each<[string, readonly Vec[]]>([
    [
      'six points',
      [
        [1, 0, 0],
        [0, 1, 0],
        [-1, 0, 1],
        [0, -1, 1],
        [1, 0, 2],
        [0, 1, 2],
      ],
    ],
    ['points on a line', Array.from({ length: 9 }, (_, i): Vec => [i, 2 * i, 3 * i])],
    ['a flat patch', Array.from({ length: 25 }, (_, i): Vec => [i % 5, Math.floor(i / 5), 0])],
    ['one place', Array.from({ length: 9 }, (): Vec => [1, 1, 1])],
    ['no number', Array.from({ length: 9 }, (_, i): Vec => [i, i * i, Number.NaN])],
  ])('%s: unknown', (_name, list) => {
    expect(cylinderFit(list)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

describe('deviation statistics', () => {
  // Own arithmetic, print and weld reference WE-21a, mm.
  it('WE-21a as-printed deviations', () => {
    const stats = knownValue(deviationStatistics([0.02, -0.05, 0.08, 0.11, -0.03, 0.06, 0.14, -0.02, 0.09, 0.04]));
    expectNear(stats.mean, 0.044, 1e-9);
    expectNear(stats.deviation, 0.063456, 1e-4);
    expectNear(stats.p05, -0.041, 1e-9);
    expectNear(stats.p50, 0.05, 1e-9);
    expectNear(stats.p95, 0.1265, 1e-9);
    expectNear(stats.p95Size, 0.1265, 1e-9);
    expectNear(stats.rms, 0.0745654, 1e-5);
    expectNear(stats.largest, 0.14, 1e-12);
  });

  // Own: for Gaussian noise 95 % of sizes lie below 1.96 sigma, of 3-D distances below 1.614 RMS.
  it('meets the Gaussian figures', () => {
    const random = seededRandom(60);
    const line = Array.from({ length: 20000 }, () => normal(random));
    expectNear(knownValue(deviationStatistics(line)).p95Size, 1.96, 0.02);
    const space = Array.from({ length: 20000 }, () => Math.hypot(normal(random), normal(random), normal(random)));
    const stats = knownValue(deviationStatistics(space));
    expectNear(stats.p95 / stats.rms, 1.614, 0.02);
  });

  it.each([[[]], [[1]], [[1, Number.NaN]], [[1, Number.POSITIVE_INFINITY]]])('%j: unknown', (values) => {
    expect(deviationStatistics(values)).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

describe('conformity', () => {
  // ISO 14253-1, from memory, example E-45: limit 0.5, measured 0.46, u 0.03.
  it('E-45 not proven', () => {
    const now = knownValue(conformity(0.46, 0.03, { upper: 0.5 }));
    expectNear(now.accept[1], 0.4505, 1e-9);
    expect(now.verdict).toBe('not proven');
    expectNear(now.outsideShare, 0.0912, 1e-3);
    const old = knownValue(conformity(0.46, 0.03, { upper: 0.5 }, guardFactor1998));
    expectNear(old.accept[1], 0.44, 1e-9);
    expect(old.verdict).toBe('not proven');
  });

  it.each([
    [0.45, 'conforms'],
    [0.4504, 'conforms'],
    [0.4506, 'not proven'],
    [0.5, 'not proven'],
    [0.5494, 'not proven'],
    [0.5496, 'does not conform'],
  ])('measured %d: %s', (measured, verdict) => {
    expect(knownValue(conformity(measured, 0.03, { upper: 0.5 })).verdict).toBe(verdict);
  });

  it('a clearance has a lower limit only; without uncertainty the limit itself passes', () => {
    expect(knownValue(conformity(0.03, 0.001, { lower: 0.025 })).verdict).toBe('conforms');
    expect(knownValue(conformity(0.026, 0.001, { lower: 0.025 })).verdict).toBe('not proven');
    const exact = knownValue(conformity(0.025, 0, { lower: 0.025, upper: 0.03 }));
    expect(exact).toMatchObject({ verdict: 'conforms', outsideShare: 0 });
    expect(knownValue(conformity(0.031, 0, { lower: 0.025, upper: 0.03 }))).toMatchObject({
      verdict: 'does not conform',
      outsideShare: 1,
    });
  });

  it('too wide an uncertainty proves nothing', () => {
    for (let y = 0; y <= 1; y += 0.05)
      expect(knownValue(conformity(y, 0.4, { lower: 0, upper: 1 })).verdict).not.toBe('conforms');
  });

  it.each([
    ['no limit', 1, 0.1, {}, 'inconsistent'],
    ['limits the wrong way round', 1, 0.1, { lower: 2, upper: 1 }, 'inconsistent'],
    ['a limit that is no number', 1, 0.1, { upper: Number.NaN }, 'inconsistent'],
    ['a negative uncertainty', 1, -0.1, { upper: 2 }, 'outOfValidity'],
    ['no measurement', Number.NaN, 0.1, { upper: 2 }, 'outOfValidity'],
  ])('%s: unknown', (_name, measured, uncertainty, tolerance, reason) => {
    expect(conformity(measured, uncertainty, tolerance)).toMatchObject({ known: false, why: { reason } });
  });

  it('uncertainties add up as squares', () => {
    expectNear(knownValue(combinedUncertainty([0.3, 0.4, 1.2])), 1.3, 1e-12);
    expect(combinedUncertainty([0.3, -0.1]).known).toBe(false);
  });
});

describe('pressure decay', () => {
  const decay: PressureDecay = {
    volume: 2.5e-3,
    startPressure: 201325,
    endPressure: 200825,
    startTemperature: 293.15,
    endTemperature: 293.15,
    duration: 60,
  };
  // Own arithmetic, print and weld reference WE-20c: 2.5 L, 500 Pa in 60 s at 201 325 Pa.
  it('WE-20c', () => {
    const leak = knownValue(pressureDecayLeak(decay));
    expectNear(leak.rate, 0.0208333, 1e-5);
    expectNear(leak.perKelvin, 686.764, 1e-6);
    expect(leak.thermalChange).toBe(0);
  });

  it('cooling alone is no leak, and warming does not hide one', () => {
    const cooled = { ...decay, endTemperature: 292.15, endPressure: (201325 * 292.15) / 293.15 };
    expect(Math.abs(knownValue(pressureDecayLeak(cooled)).rate)).toBeLessThan(1e-9);
    const warmed = { ...decay, endTemperature: 294.15, endPressure: 201325 };
    expectNear(knownValue(pressureDecayLeak(warmed)).rate, (2.5e-3 * 684.43) / 60, 1e-3);
  });

  it('a rise that temperature does not explain is unknown, so are readings that cannot be', () => {
    expect(pressureDecayLeak({ ...decay, endPressure: 201400 })).toMatchObject({
      known: false,
      why: { reason: 'inconsistent' },
    });
    for (const wrong of [{ volume: 0 }, { duration: 0 }, { endPressure: -1 }, { startTemperature: Number.NaN }])
      expect(pressureDecayLeak({ ...decay, ...wrong })).toMatchObject({
        known: false,
        why: { reason: 'outOfValidity' },
      });
  });
});

describe('arc chord error', () => {
  // Own: spacing and radius in mm, error in mm.
  it.each([
    [1, 20, 0.006],
    [2, 20, 0.025],
    [3, 22.25, 0.051],
  ])('spacing %d on radius %d', (spacing, radius, error) => {
    const got = knownValue(arcChordError.evaluate({ spacing: spacing * 1e-3, radius: radius * 1e-3 }));
    expect(Math.abs(got * 1e3 - error)).toBeLessThan(5e-4);
  });

  it('a chord longer than the diameter is none', () => {
    expect(arcChordError.evaluate({ spacing: 0.05, radius: 0.02 })).toMatchObject({
      known: false,
      why: { reason: 'inconsistent' },
    });
  });
});

describe('datum frame', () => {
  const face: readonly Vec[] = [
    [0, 0, 0],
    [0.4, 0, 0],
    [0.4, 0.1, 0],
    [0, 0.1, 0],
  ];
  const features: DatumFeatures = {
    primary: face,
    outward: [0, 0, 1],
    secondary: [
      [0.05, 0.02, 0.01],
      [0.35, 0.02, 0.012],
    ],
    tertiary: [0.05, 0.02, 0.01],
  };

  it('face, stud line and first stud', () => {
    const frame = knownValue(datumFrame(features));
    const want: readonly [Vec, Vec, Vec, Vec] = [
      [0.05, 0.02, 0],
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ];
    for (const [i, v] of [frame.origin, frame.x, frame.y, frame.z].entries())
      expect(norm(minus(v, want[i] ?? [9, 9, 9]))).toBeLessThan(1e-12);
  });

  it('moves with the part: a point keeps its numbers, the frame stays right-handed', () => {
    const random = seededRandom(70);
    for (let i = 0; i < 50; i++) {
      const m = motion(random);
      const up = move({ ...m, translation: [0, 0, 0] }, features.outward);
      const carried = {
        primary: face.map((p) => move(m, p)),
        outward: up,
        secondary: features.secondary.map((p) => move(m, p)),
        tertiary: move(m, features.tertiary),
      };
      const [frame, other] = [knownValue(datumFrame(features)), knownValue(datumFrame(carried))];
      const probe = somewhere(random, 1);
      expect(norm(minus(inFrame(other, move(m, probe)), inFrame(frame, probe)))).toBeLessThan(1e-9);
      expect(dot(other.x, cross(other.y, other.z))).toBeCloseTo(1, 12);
    }
  });

  it.each<[string, Partial<DatumFeatures>]>([
    ['two primary points', { primary: face.slice(0, 2) }],
    ['one secondary point', { secondary: features.secondary.slice(1) }],
    [
      'a line along the normal',
      {
        secondary: [
          [0, 0, 0],
          [0, 0, 1],
        ],
      },
    ],
    [
      'secondary points in one place',
      {
        secondary: [
          [1, 1, 1],
          [1, 1, 1],
        ],
      },
    ],
    ['no outward side', { outward: [1, 0, 0] }],
    ['a tertiary point that is no number', { tertiary: [0, Number.NaN, 0] }],
  ])('%s: unknown', (_name, wrong) => {
    expect(datumFrame({ ...features, ...wrong })).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});
