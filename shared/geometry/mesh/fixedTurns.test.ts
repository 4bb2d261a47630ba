import { describe, expect, it } from 'vitest';
import { seededRandom } from '../random.ts';
import type { Vec3 } from '../vector.ts';
import { rotationOfTurns, turnsOfRotation } from './fixedTurns.ts';
import { type Quaternion, rowsOf, spreadDirections, turned, turnUpright } from './rotation.ts';

const right = Math.PI / 2;
const random = seededRandom(3);
const quaternion = (): Quaternion => [random() - 0.5, random() - 0.5, random() - 0.5, random() - 0.5];

/** Largest difference of two rotations in any of their nine members. */
const apart = (a: readonly number[], b: readonly number[]): number =>
  Math.max(...a.map((x, i) => Math.abs(x - (b[i] ?? Number.NaN))));

describe('turns about fixed axes', () => {
  it.each<[string, Vec3, Vec3, Vec3]>([
    ['X takes y to z', [right, 0, 0], [0, 1, 0], [0, 0, 1]],
    ['Y takes z to x', [0, right, 0], [0, 0, 1], [1, 0, 0]],
    ['Z takes x to y', [0, 0, right], [1, 0, 0], [0, 1, 0]],
    // X first: y goes to z, which Y then takes to x. Were Y first, y would stay and X take it to z.
    ['X before Y', [right, right, 0], [0, 1, 0], [1, 0, 0]],
    ['Y before Z', [0, right, right], [0, 0, 1], [0, 1, 0]],
  ])('%s', (_, turns, from, to) => {
    for (const [k, x] of turned(rotationOfTurns(turns), from).entries()) expect(x).toBeCloseTo(to[k] ?? Number.NaN, 15);
  });

  it('give back every rotation', () => {
    for (let i = 0; i < 2000; i++) {
      const wanted = rowsOf(quaternion());
      const turns = turnsOfRotation(wanted);
      expect(apart(rotationOfTurns(turns), wanted)).toBeLessThan(2e-15);
      expect(Math.abs(turns[1])).toBeLessThanOrEqual(right);
      for (const turn of turns) expect(Math.abs(turn)).toBeLessThanOrEqual(Math.PI);
    }
  });

  it.each([0, 1e-16, 1e-12, 1e-9, 1e-6, 1e-3])('are exact %s from a right angle about Y', (off) => {
    for (const side of [1, -1])
      for (const [x, z] of [
        [0.3, -1.1],
        [2.9, 3],
      ] as const) {
        const wanted = rotationOfTurns([x, side * (right - off), z]);
        expect(apart(rotationOfTurns(turnsOfRotation(wanted)), wanted)).toBeLessThan(2e-15);
      }
  });

  it('bring every direction upright as the turn of the pose search does', () => {
    for (const up of [...spreadDirections(500), [0, 0, -1], [0, 0, 1], [1, 0, 0]] satisfies Vec3[]) {
      const turns = turnsOfRotation(turnUpright(up));
      const [x, y, z] = turned(rotationOfTurns(turns), up);
      expect(Math.hypot(x, y, z - 1)).toBeLessThan(2e-15);
    }
  });
});
