import { describe, expect, it } from 'vitest';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { massProperties } from '../../../shared/geometry/mesh/massProperties.ts';
import { meshReport } from '../../../shared/geometry/mesh/meshReport.ts';
import { wallVolume } from '../../../shared/geometry/tube.ts';
import { boxMesh } from '../../../tests/support/boxMesh.ts';
import { unitedParts, unitedTubes } from './united.ts';

function line(...nodes: readonly (readonly [number, number, number, number])[]) {
  const centreline = buildCentreline(nodes.map(([x, y, z, radius]) => ({ x, y, z, radius })));
  if (!centreline.ok) throw new Error(centreline.code);
  return centreline;
}

const size = { outerRadius: 0.0212, innerRadius: 0.0192 };

const closed = { openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0, selfIntersections: 0 };

describe('parts made one', () => {
  it('overlapping boxes become one closed solid of the volume of their union', async () => {
    const parts = [
      { name: 'a', mesh: boxMesh([0, 0, 0], [0.1, 0.1, 0.1]) },
      { name: 'b', mesh: boxMesh([0.05, 0.05, 0.05], [0.15, 0.15, 0.15]) },
    ];
    const made = await unitedParts(parts);
    if (!made.ok) throw new Error(made.problem.message);
    const report = meshReport(made.result);
    expect(report).toMatchObject(closed);
    expect(report.shells).toHaveLength(1);
    expect(report.volume).toBeCloseTo(2 * 0.1 ** 3 - 0.05 ** 3, 9);
  });

  it('names the part that is not closed', async () => {
    const whole = boxMesh([0, 0, 0], [0.1, 0.1, 0.1]);
    const open = { ...whole, indices: whole.indices.subarray(0, 33) };
    const made = await unitedParts([
      { name: 'Collector', mesh: whole },
      { name: 'Runner 2', mesh: open },
    ]);
    expect(made).toMatchObject({ ok: false, problem: { code: 'not-closed' } });
    expect(made.ok || made.problem.message).toMatch(/"Runner 2" is no closed surface/);
  });
});

describe('tubes made one', () => {
  it('a bent tube has the volume of its closed form', async () => {
    const centreline = line([0, 0, 0, 0], [0, 0.15, 0.02, 0.06], [0.1, 0.2, -0.15, 0.05], [0.1, 0.3, -0.3, 0]);
    const made = await unitedTubes([{ ...size, centreline }]);
    if (!made.ok) throw new Error(made.problem.message);
    expect(meshReport(made.result)).toMatchObject(closed);
    const exact = wallVolume(size.outerRadius, size.outerRadius - size.innerRadius, centreline.length);
    expect(Math.abs(massProperties(made.result).volume / exact - 1)).toBeLessThan(5e-4);
  });

  it('a tube that runs into another opens into it: one shell, and the bores are free', async () => {
    const through = line([-0.1, 0, 0, 0], [0.1, 0, 0, 0]);
    const branch = line([0, 0, 0, 0], [0, 0.1, 0, 0]);
    const made = await unitedTubes([
      { ...size, centreline: through },
      { ...size, centreline: branch },
    ]);
    if (!made.ok) throw new Error(made.problem.message);
    const report = meshReport(made.result);
    expect(report).toMatchObject(closed);
    expect(report.shells).toHaveLength(1);
    // Three open ends on one wall: a sphere with three holes in its skin, doubled, is of genus 2. V - E + F = 2 - 2 x 2.
    const used = new Set(made.result.indices).size;
    const faces = made.result.indices.length / 3;
    expect(used - 1.5 * faces + faces).toBe(-2);
  });
});
