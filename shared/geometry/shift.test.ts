import { describe, expect, it } from 'vitest';
import { buildCentreline, type Centreline, type CentrelineNode } from './centreline.ts';
import { largestShift } from './shift.ts';

const nodes: readonly CentrelineNode[] = [
  { x: 0, y: 0, z: 0, radius: 0 },
  { x: 0, y: 0.15, z: 0, radius: 0.08 },
  { x: 0, y: 0.15, z: 0.25, radius: 0 },
];

function line(change: (node: CentrelineNode, i: number) => Partial<CentrelineNode> = () => ({})): Centreline {
  const made = buildCentreline(nodes.map((node, i) => ({ ...node, ...change(node, i) })));
  if (!made.ok) throw new Error(made.code);
  return made;
}

describe('how far a runner moved', () => {
  it('is nothing for the same line, also when it is told in more nodes', () => {
    expect(largestShift(line(), line())).toBeLessThan(1e-12);
    const more = buildCentreline([...nodes.slice(0, 2), { x: 0, y: 0.15, z: 0.2, radius: 0 }, ...nodes.slice(2)]);
    expect(more.ok && largestShift(line(), more)).toBeLessThan(1e-12);
  });

  it('is the way of a line moved as a whole, across its plane', () => {
    expect(
      largestShift(
        line(),
        line(() => ({ x: 0.012 })),
      ),
    ).toBeCloseTo(0.012, 12);
  });

  it('is that of the end when only the end moves, whichever is first', () => {
    const longer = line((_, i) => (i === 2 ? { z: 0.28 } : {}));
    expect([largestShift(line(), longer), largestShift(longer, line())]).toEqual([
      expect.closeTo(0.03, 9),
      expect.closeTo(0.03, 9),
    ]);
  });

  it('is (sqrt 2 - 1) times the difference for another bend radius in a right angle', () => {
    // The middle of each arc lies (sqrt 2 - 1) r from the corner, on the same diagonal.
    const tighter = line((_, i) => (i === 1 ? { radius: 0.06 } : {}));
    expect(largestShift(line(), tighter)).toBeCloseTo((Math.SQRT2 - 1) * 0.02, 5);
  });
});
