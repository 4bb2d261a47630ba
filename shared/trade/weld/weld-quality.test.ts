import { describe, expect, it } from 'vitest';
import { knownValue } from '../../../tests/reference/nearness.ts';
import { expectRefusal } from '../../../tests/support/validityTable.ts';
import { type Imperfection, type QualityLevel, shortLengthLimit, weldQualityLimit } from './weld-quality.ts';

/** `0.4s`: 0.4 mm over short lengths only; `no`: not permitted. */
type Cell = number | `${number}s` | 'no';
type Row = readonly [of: Imperfection, wall: number, bead: number, d: Cell, c: Cell, b: Cell];

// The table of ISO 5817 worked out by hand, mm: each row of it in the middle, at the 3 mm where the columns change, and where a "max" governs.
// Sources as in weld-quality.ts (2007 and 2014 texts in excerpts; 507, 511, 515 from memory).
const table: readonly Row[] = [
  ['crack', 2, 4, 'no', 'no', 'no'],
  ['crack', 10, 4, 'no', 'no', 'no'],
  ['incomplete-root', 2, 4, '0.4s', 'no', 'no'],
  ['incomplete-root', 20, 4, '2s', 'no', 'no'],
  ['undercut', 2, 4, '0.4s', '0.2s', 'no'],
  ['undercut', 3, 4, '0.6s', '0.3s', 'no'],
  ['undercut', 4, 4, 0.8, 0.4, 0.2],
  ['undercut', 20, 4, 1, 0.5, 0.5],
  ['shrinkage-groove', 2, 4, 0.4, '0.2s', 'no'],
  ['shrinkage-groove', 3, 4, 0.5, '0.3s', 'no'],
  ['excess-cap', 2, 6, 2.5, 1.9, 1.6],
  ['excess-cap', 10, 30, 8.5, 5.5, 4],
  ['excess-penetration', 2, 5, 4, 2.5, 1.5],
  ['excess-penetration', 3, 5, 4, 2.5, 1.5],
  ['excess-penetration', 4, 2, 3, 2.2, 1.4],
  ['excess-penetration', 4, 30, 5, 4, 3],
  ['step-plate', 2, 4, 0.7, 0.5, 0.4],
  ['step-plate', 3, 4, 0.95, 0.65, 0.5],
  ['step-plate', 4, 4, 1, 0.6, 0.4],
  ['step-plate', 20, 4, 5, 3, 2],
  ['step-round', 2, 4, 1, 1, 1],
  ['step-round', 5, 4, 2.5, 2.5, 2],
  ['step-round', 20, 4, 4, 3, 2],
  ['unfilled-groove', 2, 4, '0.5s', '0.2s', 'no'],
  ['root-concavity', 2, 4, 0.4, '0.2s', 'no'],
  ['surface-pore', 2, 4, '0.6s', 'no', 'no'],
];

const cells = table.flatMap(([of, wall, bead, d, c, b]) =>
  (
    [
      ['D', d],
      ['C', c],
      ['B', b],
    ] as const satisfies readonly (readonly [QualityLevel, Cell])[]
  ).map(([level, cell]) => [of, level, wall, bead, cell] as const),
);

describe('quality levels', () => {
  it.each(cells)('%s at %s, wall %d mm, bead %d mm: %s', (of, level, wall, bead, cell) => {
    const got = knownValue(weldQualityLimit(of, level, { wall: wall * 1e-3, beadWidth: bead * 1e-3 }));
    const mm = cell === 'no' ? 0 : Number.parseFloat(`${cell}`);
    expect(got.limit * 1e3).toBeCloseTo(mm, 9);
    expect(got.shortOnly).toBe(`${cell}`.endsWith('s'));
  });

  it.each(['shrinkage-groove', 'unfilled-groove', 'root-concavity', 'surface-pore'] as const)(
    '%s has no row above 3 mm',
    (of) => {
      expect(weldQualityLimit(of, 'D', { wall: 3e-3, beadWidth: 4e-3 }).known).toBe(true);
      expectRefusal(
        weldQualityLimit(of, 'D', { wall: 0.004, beadWidth: 4e-3 }),
        `weld-quality: expected a wall of at most 3 mm for ${of}, got 0.004 m: that row was not found`,
      );
    },
  );

  it('short is 25 mm, or a quarter of a weld below 100 mm', () => {
    for (const [length, most] of [
      [0, 0],
      [0.04, 0.01],
      [0.1, 0.025],
      [0.3, 0.025],
    ] as const)
      expect(knownValue(shortLengthLimit(length))).toBeCloseTo(most, 12);
  });
});
