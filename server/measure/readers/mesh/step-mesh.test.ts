import { expect, it } from 'vitest';
import { buildCentreline } from '../../../../shared/geometry/centreline.ts';
import { meshReport } from '../../../../shared/geometry/mesh/meshReport.ts';
import { stepOfTubes } from '../../../../shared/geometry/step/stepOfTubes.ts';
import { readAny } from './mesh-file.fixture.ts';

/** A straight tube along y, as text. */
const tube = (): string => tubes([0, 0.1]);

/** The same from place to place along y. */
function tubes(...ends: readonly (readonly [number, number])[]): string {
  const straight = ([from, to]: readonly [number, number]) => {
    const centreline = buildCentreline([from, to].map((y) => ({ x: 0, y, z: 0, radius: 0 })));
    if (!centreline.ok) throw new Error(centreline.code);
    return { centreline, outerRadius: 0.02, innerRadius: 0.018, name: `${from}` };
  };
  return stepOfTubes(ends.map(straight), { name: 'Tube', time: '2026-01-02T03:04:05Z' });
}

/** The same with this for the x of the middle of its far end. */
const withEnd = (x: string): string => tube().replace(/(?<=CARTESIAN_POINT\('',\()0\.(?=,100\.,0\.\))/, x);

// The importer reads 6.1e-17 as 6.1. Found by a file that another writer (npm stepts 0.0.2) had made.
it.each(['6.123e-17', '6.123e-017', '6.e-17', '6e-17', '0.6123e+0', '6.123e0'])(
  'an exponent in a small letter is an exponent: %s',
  async (x) => {
    expect(withEnd(x)).not.toBe(tube());
    const [small, large] = [await readAny(withEnd(x)), await readAny(withEnd(x.toUpperCase()))];
    expect(small).toMatchObject({ format: 'step' });
    expect(small).toEqual(large);
  },
);

it('and so the tube ends where it did', async () => {
  const end = async (x: string): Promise<number> => {
    const found = await readAny(withEnd(x));
    if (!('mesh' in found)) throw new Error(found.message);
    return found.mesh.positions.reduce((most, y, i) => (i % 3 === 0 ? Math.max(most, y) : most), 0);
  };
  expect(await end('6.123e-17')).toBeCloseTo(0.02, 9);
  expect(await end('6.123')).toBeGreaterThan(0.025);
});

it('parts that touch stay parts, each closed for itself', async () => {
  const found = await readAny(tubes([0, 0.1], [0.1, 0.25]));
  if (!('mesh' in found)) throw new Error(found.message);
  const { shells, ...report } = meshReport(found.mesh);
  expect(report).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0 });
  expect(shells).toHaveLength(2);
});
