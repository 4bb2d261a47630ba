import { beforeAll, describe, expect, it } from 'vitest';
import { buildCentreline } from '../../../shared/geometry/centreline.ts';
import { buildPointGrid, type PointGrid } from '../../../shared/geometry/cloud.ts';
import { footOnPieces } from '../../../shared/geometry/distance.ts';
import type { TubeShape } from '../../../shared/geometry/measurement.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { type Motion, movedBy } from '../../../shared/geometry/motion.ts';
import { NEARNESS_FAR, nearnessCap } from '../../../shared/geometry/nearness.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { tilesOf } from '../../../shared/geometry/tiles.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { boxMesh } from '../../../tests/support/boxMesh.ts';
import { codecReady, decodeTile } from '../../../web/tiles/decode.ts';
import type { HeaderAbout } from '../jobs.ts';
import { bruteDistances } from '../kernels/brute.fixture.ts';
import { encodeTiles } from '../tiles/encode.ts';
import { nearnessOf } from './nearness.ts';

beforeAll(() => codecReady);

const origin: Vec3 = [1.5, -0.25, 0.125];
const radius = 0.022;
const fromS = 0.01;
/** A tube with a bend from one side of the scan to the other; its middle node as far down as asked. */
const tube = (down: number): TubeShape => ({
  nodes: [1.3, -0.2, 0.2, 0, 1.45, -0.2, 0.2 - down, 0.05, 1.6, -0.2, 0.2, 0],
  outerRadius: radius,
  fromS,
});
const solid = boxMesh([1.55, -0.4, 0], [1.65, -0.3, 0.08]);
const header = (more: Partial<HeaderAbout> = {}): HeaderAbout => ({
  tubes: [tube(0.02), tube(0.15)],
  meshes: ['solid'],
  motion: null,
  cap: nearnessCap,
  ...more,
});
const meshOf = (): TriangleMesh => solid;

const scan = (count = 20_000): PointGrid => {
  const random = seededRandom(91);
  return buildPointGrid(
    Float32Array.from({ length: 3 * count }, () => 0.5 * random() - 0.25),
    origin,
  );
};

function levels(grid: PointGrid, about: HeaderAbout, mesh = meshOf): Uint8Array {
  const made = nearnessOf(grid, about, mesh);
  if (!made.ok) throw new Error(made.problem.message);
  return made.result.levels;
}

/** Every point where a browser draws it, tile after tile. */
async function drawn(grid: PointGrid): Promise<readonly Vec3[]> {
  const { index, tiles } = await encodeTiles(grid);
  return tilesOf(index).flatMap(({ number, count, corner, step }) => {
    const decoded = decodeTile(tiles[number] ?? new Uint8Array(), count);
    if (!decoded.ok) throw new Error(decoded.problem);
    const at = (i: number, k: 0 | 1 | 2): number => corner[k] + ((decoded.points[4 * i + k] ?? 0) + 0.5) * step;
    return Array.from({ length: count }, (_, i): Vec3 => [at(i, 0), at(i, 1), at(i, 2)]);
  });
}

/** Distance to the side of a tube, one point after the other; undefined beyond its flat ends, where the side is not the nearest. */
function fromSide(p: Vec3, { nodes, outerRadius }: TubeShape): number | undefined {
  const rows = [0, 4, 8].map((o) => nodes.slice(o, o + 4));
  const line = buildCentreline(rows.map(([x = 0, y = 0, z = 0, bend = 0]) => ({ x, y, z, radius: bend })));
  const foot = line.ok ? footOnPieces(line.pieces, p) : undefined;
  if (!line.ok || !foot || foot.s <= fromS || foot.s >= line.length) return undefined;
  return foot.distance - outerRadius;
}

describe('how near each point is', () => {
  it('is the distance to the nearest of tubes and pieces, in the order of the tiles, 0 inside them', async () => {
    const grid = scan();
    const got = levels(grid, header());
    const places = await drawn(grid);
    expect(got).toHaveLength(places.length);
    const solidAway = bruteDistances(places.flat(), solid);
    const step = nearnessCap / 254;
    let [within, inside, compared] = [0, 0, 0];
    for (const [i, p] of places.entries()) {
      const sides = [tube(0.02), tube(0.15)].map((one) => fromSide(p, one));
      if (sides.some((one) => one === undefined)) continue;
      const inSolid = p[0] > 1.55 && p[0] < 1.65 && p[1] > -0.4 && p[1] < -0.3 && p[2] > 0 && p[2] < 0.08;
      const least = Math.min(...sides.map((one) => one ?? 0), inSolid ? -(solidAway[i] ?? 0) : (solidAway[i] ?? 0));
      const level = got[i] ?? Number.NaN;
      compared++;
      // A point is drawn up to half a step of its tile off its place.
      if (level === NEARNESS_FAR) expect(least).toBeGreaterThan(nearnessCap - 5e-5);
      else expect(Math.abs(level * step - Math.max(0, least))).toBeLessThan(step / 2 + 5e-5);
      if (level < NEARNESS_FAR) within++;
      if (level === 0) inside++;
    }
    expect(compared).toBeGreaterThan(10_000);
    expect(within).toBeGreaterThan(2_000);
    expect(inside).toBeGreaterThan(100);
    expect(within).toBeLessThan(compared);
  });

  it('after an edit is what it is from nothing, and only near the old and the new tube another', async () => {
    const grid = scan();
    const before = levels(grid, header());
    const after = levels(grid, header({ tubes: [tube(0.05), tube(0.15)] }));
    expect(after).toEqual(levels(scan(), header({ tubes: [tube(0.05), tube(0.15)] })));
    expect(levels(grid, header())).toEqual(before);
    const places = await drawn(grid);
    let changed = 0;
    for (const [i, p] of places.entries()) {
      if (before[i] === after[i]) continue;
      changed++;
      const away = [tube(0.02), tube(0.05)].map((one) => fromSide(p, one) ?? 0);
      expect(Math.min(...away)).toBeLessThan(nearnessCap + 5e-5);
    }
    expect(changed).toBeGreaterThan(200);
    expect(changed).toBeLessThan(places.length / 2);
  });

  it('is the same for a piece in the car and a scan that is brought to it', () => {
    const motion: Motion = {
      rotation: [
        [0, -1, 0],
        [1, 0, 0],
        [0, 0, 1],
      ],
      translation: [0.3, -0.2, 0.1],
    };
    const onCar: TriangleMesh = { positions: Float64Array.from(solid.positions), indices: solid.indices };
    for (let o = 0; o < onCar.positions.length; o += 3) {
      const [x = 0, y = 0, z = 0] = solid.positions.subarray(o, o + 3);
      onCar.positions.set(movedBy(motion, [x, y, z]), o);
    }
    const alone = header({ tubes: [] });
    const moved = levels(scan(), { ...alone, motion }, () => onCar);
    const still = levels(scan(), alone);
    // Rounding may fall to the other side of a step.
    expect(moved.reduce((most, level, i) => Math.max(most, Math.abs(level - (still[i] ?? 0))), 0)).toBeLessThan(2);
    expect(still.filter((level) => level < NEARNESS_FAR).length).toBeGreaterThan(1_000);
  });

  it('is far for all where there is no header, and nothing for a scan without points', () => {
    expect(new Set(levels(scan(100), header({ tubes: [], meshes: [] })))).toEqual(new Set([NEARNESS_FAR]));
    expect(levels(buildPointGrid(new Float32Array(), origin), header())).toEqual(new Uint8Array());
  });

  it('says what is wrong with a tube', () => {
    const bad = { ...tube(0.02), outerRadius: 0 };
    expect(nearnessOf(scan(100), header({ tubes: [bad] }), meshOf)).toMatchObject({
      ok: false,
      problem: { code: 'bad-tube', message: expect.stringMatching(/Expected an outer radius/) },
    });
  });
});
