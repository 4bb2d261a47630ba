import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sampleSheet } from '../../shared/geometry/generate.ts';
import type { TubeShape } from '../../shared/geometry/measurement.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { writeBinaryPly } from './ply.ts';
import { createMeasurePool } from './pool.ts';
import { binaryStl, boxTriangles } from './readers/upload.fixture.ts';
import { createMeasureService } from './service.ts';
import { readTileIndex } from './tiles/tile-file.ts';

const folder = mkdtempSync(join(tmpdir(), 'pool-'));
const pool = createMeasurePool(1);
const [file, out] = [join(folder, 'sheet'), join(folder, 'sheet.grid')];
const sheet = { corner: [-0.2, -0.2, 0.05], edgeU: [0.8, 0, 0], edgeV: [0, 0.4, 0] } as const;
const points = sampleSheet(sheet, { spacing: 0.004, sigma: 0 }, seededRandom(95));

const straight: TubeShape = { nodes: [0, 0, 0, 0, 0.2, 0, 0, 0], outerRadius: 0.02, fromS: 0 };
const gapTo = (grid: string, tube: Partial<TubeShape>) =>
  pool.run({
    kind: 'measure',
    job: { kind: 'clearance', scan: 'sheet', ...straight, ...tube },
    scanFiles: { sheet: grid },
    meshFiles: {},
  });

beforeAll(() => writeFileSync(file, writeBinaryPly(points, 1000)));
afterAll(async () => {
  await pool.destroy();
  rmSync(folder, { recursive: true });
});

describe('measuring threads', () => {
  it('read a scan, measure against it and cut it into tiles', async () => {
    const read = await pool.run({ kind: 'readScan', file, unitFactor: 0.001, out });
    expect(read).toMatchObject({ ok: true, result: { format: 'ply-binary-le', count: points.length / 3 } });
    expect(read.ok && 'points' in read.result).toBe(false);

    const nodes = [0, 0, 0, 0, 0.2, 0, 0, 0.06, 0.2, 0.1, 0, 0];
    const near = await gapTo(out, { nodes, fromS: 0.02 });
    if (!near.ok) throw new Error(near.problem.message);
    // The sheet lies 50 mm above the plane of the tube; the nearest of its points stands at most a spacing off the straight way down.
    expect(near.result.gap).toBeGreaterThanOrEqual(0.03 - 1e-6);
    expect(near.result.gap).toBeLessThan(Math.hypot(0.05, 0.004) - 0.02);
    expect(near.result.points).toBe(points.length / 3);
    expect(near.result.cover).toBe(0);

    const tiles = join(folder, 'sheet.tiles');
    const cut = await pool.run({ kind: 'tileScan', scanFile: out, out: tiles });
    expect(cut).toEqual({ ok: true, result: { points: points.length / 3 } });
    expect((await readTileIndex(tiles)).index.points).toBe(points.length / 3);
  });

  it('say by how much the gap to a sampled surface may be overstated', async () => {
    const [box, grid] = [join(folder, 'box'), join(folder, 'box.grid')];
    writeFileSync(box, binaryStl(boxTriangles()));
    const read = await pool.run({ kind: 'readScan', file: box, unitFactor: 0.001, out: grid });
    if (!read.ok) throw new Error(read.problem.message);
    // A tube along x, 50 mm over the top of the box (z = 40 mm), off the edges of its triangles.
    const nodes = [-0.05, 0.0307, 0.09, 0, 0.15, 0.0307, 0.09, 0];
    const near = await gapTo(grid, { nodes });
    if (!near.ok) throw new Error(near.problem.message);
    const { gap, cover } = near.result;
    expect(cover).toBe(read.result.cover);
    expect(cover).toBeGreaterThan(0);
    expect(gap).toBeGreaterThanOrEqual(0.03 - 1e-6);
    expect(gap - cover).toBeLessThanOrEqual(0.03);
  });

  it.each([
    [
      'bend-does-not-fit',
      { nodes: [0, 0, 0, 0, 0.1, 0, 0, 0.5, 0.1, 0.1, 0, 0] },
      /node 2 needs 0.5000 m of straight, there is 0.1000 m/,
    ],
    ['bad-tube', { nodes: [0, 0, 0] }, /four numbers a node.*got 3/],
    ['bad-tube', { outerRadius: Number.NaN }, /outer radius/],
    ['nothing-to-measure', { fromS: 5 }, /before the end of the centreline at 0.2000 m, got 5 m/],
    ['unreadable-file', { scanFile: join(folder, 'absent') }, /could not be opened: ENOENT/],
    ['bad-grid-file', { scanFile: file }, /Expected a grid file/],
  ])('answer %s as data', async (code, change, words) => {
    const { scanFile = out, ...tube }: Partial<TubeShape> & { scanFile?: string } = change;
    const outcome = await gapTo(scanFile, tube);
    expect(outcome).toMatchObject({ ok: false, problem: { code } });
    if (!outcome.ok) expect(outcome.problem.message).toMatch(words);
  });

  it('answer a bad scan file as data', async () => {
    const outcome = await pool.run({ kind: 'readScan', file, unitFactor: 1, out });
    expect(outcome).toMatchObject({ ok: false, problem: { code: 'implausible-extents' } });
  });

  it('serve the measure service', async () => {
    const service = await createMeasureService({
      pool,
      scanFile: (sha) => join(folder, `${sha}.grid`),
      meshFile: (name) => join(folder, `${name}.mesh`),
    });
    const job = {
      kind: 'clearance',
      scan: 'sheet',
      nodes: [0, 0, 0, 0, 0.2, 0, 0, 0],
      outerRadius: 0.02,
      fromS: 0,
    } as const;
    service.request(job);
    await service.idle();
    const state = service.request(job);
    expect(state.state === 'done' && state.result.gap).toBeCloseTo(0.03, 3);
  });
});
