import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../shared/geometry/random.ts';
import { type BendTable, bendPoints, bendTable } from '../../shared/trade/tube/bend-table.ts';
import { biarc } from '../../shared/trade/tube/biarc.ts';
import { chordAngleForError } from '../../shared/trade/tube/chord-angle-for-error.ts';
import { along, dot, minus, size, type Triple, unit } from '../../shared/trade/tube/direction.ts';
import { expectNear, knownValue } from './nearness.ts';

const degree = Math.PI / 180;
const mm = 1e-3;
const scaled = (points: readonly (readonly [number, number, number])[], unitLength: number): Triple[] =>
  points.map(([x, y, z]) => [x * unitLength, y * unitLength, z * unitLength]);

function expectTable(table: BendTable, lengths: readonly number[], turns: readonly number[], developed: number): void {
  const straights = [...table.rows.map(({ length }) => length), table.tail];
  for (const [i, length] of lengths.entries()) expectNear(straights[i] ?? Number.NaN, length, 1e-4);
  expect(straights).toHaveLength(lengths.length);
  for (const [i, turn] of turns.entries())
    expect(Math.abs((table.rows[i]?.rotation ?? Number.NaN) / degree)).toBeCloseTo(turn, 3);
  expectNear(table.developed, developed, 1e-4);
}

describe('points to bends and back', () => {
  // E-34: points posted on a public forum, CLR 1.0; result own arithmetic. The first corner of the page's list is where the tube starts.
  it('E-34', () => {
    const points = scaled(
      [
        [38.5202, -14.0264, 0],
        [45.3142, -14.0264, 0],
        [45.3142, -17.5214, 0.9654],
        [48.6822, -17.5214, 0.9654],
      ],
      1,
    );
    const table = knownValue(bendTable(points, 1));
    expectTable(table, [5.794, 1.6259, 2.368], [0, 180], 12.92947);
    for (const { angle } of table.rows) expectNear(angle, Math.PI / 2, 1e-6);
  });

  // E-35, own arithmetic.
  const e35: Triple[] = scaled(
    [
      [0, 0, 0],
      [150, 0, 0],
      [150, 160, 0],
      [150, 160, 200],
      [300, 260, 200],
    ],
    mm,
  );
  it('E-35', () => {
    const table = knownValue(bendTable(e35, 66.75 * mm));
    expectTable(table, [83.25 * mm, 26.5 * mm, 66.5 * mm, 113.5276 * mm], [0, 90, 123.6901], 604.3295 * mm);
    expect(table.rows.map(({ angle }) => Math.round(angle / degree))).toEqual([90, 90, 90]);
  });

  it('the other rotation sense turns every sign and comes back to the same tube', () => {
    const right = knownValue(bendTable(e35, 66.75 * mm, 'right'));
    const left = knownValue(bendTable(e35, 66.75 * mm, 'left'));
    for (const [i, row] of right.rows.entries()) expect(left.rows[i]?.rotation).toBeCloseTo(-row.rotation, 12);
    const [a, b] = [knownValue(bendPoints(right, 'right')), knownValue(bendPoints(left, 'left'))];
    for (const [i, point] of a.entries()) expect(size(minus(point, b[i] ?? [9, 9, 9]))).toBeLessThan(1e-12);
    // Read with the wrong sense it is the mirror image: all distances of neighbours agree, the handedness does not.
    const mirrored = knownValue(bendPoints(right, 'left'));
    expect(hand(mirrored)).toBeCloseTo(-hand(a), 12);
    expect(Math.abs(hand(a))).toBeGreaterThan(1e-4);
  });

  it('keeps lengths, distances and handedness of 200 random tubes there and back', () => {
    const random = seededRandom(1234);
    let made = 0;
    for (let i = 0; i < 200; i++) {
      const points: Triple[] = Array.from(
        { length: 6 },
        (_, k): Triple => [k * 0.25 + random() * 0.1, random() * 0.3, random() * 0.3],
      );
      const table = bendTable(points, 0.02);
      if (!table.known) continue;
      made++;
      const back = knownValue(bendPoints(table.value));
      for (let a = 0; a < points.length; a++)
        for (let b = 0; b < a; b++) expect(Math.abs(apart(points, a, b) - apart(back, a, b))).toBeLessThan(1e-12);
      expect(hand(back)).toBeCloseTo(hand(points), 10);
    }
    expect(made).toBeGreaterThan(150);
  });

  it('drops a corner that does not turn, refuses overlaps, turning back, and points in one place', () => {
    const straight = scaled(
      [
        [0, 0, 0],
        [1, 0, 0],
        [2, 0, 0],
      ],
      1,
    );
    expect(knownValue(bendTable(straight, 0.1))).toEqual({ rows: [], tail: 2, developed: 2 });
    const why = (points: readonly Triple[], radius = 0.1) => bendTable(points, radius);
    for (const [points, radius, word] of [
      [
        scaled(
          [
            [0, 0, 0],
            [1, 0, 0],
            [1, 0.1, 0],
            [2, 0.1, 0],
          ],
          1,
        ),
        0.1,
        'overlap',
      ],
      [
        scaled(
          [
            [0, 0, 0],
            [1, 0, 0],
            [0, 0, 0],
          ],
          1,
        ),
        0.1,
        'turns back',
      ],
      [
        scaled(
          [
            [0, 0, 0],
            [0, 0, 0],
            [1, 0, 0],
          ],
          1,
        ),
        0.1,
        'one place',
      ],
      [scaled([[0, 0, 0]], 1), 0.1, 'at least two'],
      [
        scaled(
          [
            [0, 0, 0],
            [Number.NaN, 0, 0],
          ],
          1,
        ),
        0.1,
        'finite',
      ],
      [e35, 0, 'radius'],
    ] as const) {
      const got = why(points, radius);
      expect(got.known).toBe(false);
      expect(JSON.stringify(got)).toContain(word);
    }
    const bad = bendPoints({ rows: [{ length: -1, rotation: 0, angle: 1, radius: 1 }], tail: 1 });
    expect(bad).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });
});

/** Signed volume of the first three steps: its sign is the handedness. */
function hand(points: readonly Triple[]): number {
  const steps = points.slice(1).map((p, i) => minus(p, points[i] ?? p));
  const [a, b, c] = [steps[0], steps[1], steps[2]];
  if (!a || !b || !c) throw new Error('expected four points');
  return a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]);
}

function apart(points: readonly Triple[], a: number, b: number): number {
  return size(minus(points[a] ?? [Number.NaN, 0, 0], points[b] ?? [Number.NaN, 0, 0]));
}

describe('biarcs', () => {
  // E-37 and E-38, own arithmetic.
  it('E-37 in the plane', () => {
    const got = knownValue(biarc([0, 0, 0], [1, 0, 0], [100, 60, 0], [0, 1, 0]));
    expectNear(got.arm, 34.8913, 1e-3);
    expectNear(got.joint[0], 67.4456, 1e-3);
    expectNear(got.joint[1], 12.5544, 1e-3);
    expectArcs(got.arcs, [
      [187.446, 21.0888, 68.993],
      [50.851, 68.9112, 61.16],
    ]);
  });

  it('E-38 in space', () => {
    const got = knownValue(biarc([0, 0, 0], [1, 0, 0], [100, 60, 40], [0, 0, 1]));
    expectNear(got.arm, 41.8034, 1e-3);
    for (const [i, x] of [70.9017, 30, -0.9017].entries()) expectNear(got.joint[i] ?? Number.NaN, x, 1e-3);
    expectArcs(got.arcs, [
      [98.753, 45.887],
      [40.911, 91.236],
    ]);
  });

  it('is a straight when the tangents point along it, refuses points in one place', () => {
    const got = knownValue(biarc([0, 0, 0], [1, 0, 0], [2, 0, 0], [1, 0, 0]));
    expect(got.arcs.map(({ length }) => length)).toEqual([1, 1]);
    for (const bad of [
      biarc([0, 0, 0], [1, 0, 0], [0, 0, 0], [1, 0, 0]),
      biarc([0, 0, 0], [0, 0, 0], [1, 0, 0], [1, 0, 0]),
      biarc([0, 0, 0], [1, 0, 0], [Number.NaN, 0, 0], [1, 0, 0]),
    ])
      expect(bad).toMatchObject({ known: false, why: { reason: 'inconsistent' } });
  });

  it('of 300 random pairs: equal arms, never shorter than the straight line', () => {
    const random = seededRandom(77);
    for (let i = 0; i < 300; i++) {
      const draw = (): Triple => [random() - 0.5, random() - 0.5, random() - 0.5];
      const [start, end, first, second] = [draw(), draw(), draw(), draw()];
      const got = biarc(start, first, end, second);
      if (!got.known) continue;
      const { arm, joint, arcs } = got.value;
      const length = arcs[0].length + arcs[1].length;
      expect(length).toBeGreaterThanOrEqual(size(minus(end, start)) * (1 - 1e-9));
      // The corner of the first arc is one arm from the start and one arm from the joint.
      const corner = along(start, unit(first), arm);
      expectNear(size(minus(joint, corner)), arm, 1e-6);
      expect(Number.isFinite(dot(joint, joint))).toBe(true);
    }
  });
});

function expectArcs(
  arcs: readonly { radius: number; angle: number; length: number }[],
  expected: readonly (readonly [number, number, number?])[],
): void {
  for (const [i, [radius, angle, length]] of expected.entries()) {
    const arc = arcs[i];
    if (!arc) throw new Error('expected two arcs');
    expectNear(arc.radius, radius, 1e-3);
    expectNear(arc.angle / degree, angle, 1e-3);
    if (length !== undefined) expectNear(arc.length, length, 1e-3);
  }
}

// Own arithmetic: greatest angle of a chord for an error at R 66.75 mm.
it.each([
  [0.1, 6.27],
  [0.25, 9.92],
  [0.5, 14.03],
  [1, 19.86],
])('chord for %d mm of error', (error, expected) => {
  expectNear(
    knownValue(chordAngleForError.evaluate({ radius: 66.75 * mm, error: error * mm })) / degree,
    expected,
    1e-3,
  );
});
