import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { MeasureKind, MeasureResult } from '../../shared/geometry/measurement.ts';
import { stlBytes } from '../../shared/geometry/mesh/exportStl.ts';
import { massProperties } from '../../shared/geometry/mesh/massProperties.ts';
import { boxMesh, flipped, pipeMesh } from '../../shared/geometry/mesh/shapes.fixture.ts';
import { joinMeshes, type TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import type { PartKinds } from '../../shared/geometry/partMeasurement.ts';
import { exportFormats, type MeasurementTask } from './jobs.ts';
import { readMeshFile, writeMeshFile } from './mesh-file.ts';
import { createMeasurePool } from './pool.ts';
import { readMesh } from './readers/mesh/mesh-file.ts';
import { checkedResult } from './result-shapes.ts';
import { createMeasureService } from './service.ts';

const folder = mkdtempSync(join(tmpdir(), 'parts-'));
const pool = createMeasurePool(1);
const meshFile = join(folder, 'pipe.mesh');
/** A pipe along z, 40 mm outside, 36 mm inside, 100 mm long, of 60 facets. */
const pipe = pipeMesh({ outer: 0.02, inner: 0.018 }, 0.1, 60);
const degree = Math.PI / 180;
const halfFacet = Math.cos(Math.PI / 60);

beforeAll(() => writeMeshFile(meshFile, pipe));
afterAll(async () => {
  await pool.destroy();
  rmSync(folder, { recursive: true });
});

const samples = join(dirname(createRequire(import.meta.url).resolve('occt-import-js/package.json')), 'test/testfiles');

async function measured<K extends keyof PartKinds & MeasureKind>(
  job: PartKinds[K]['job'],
  file = meshFile,
): Promise<MeasureResult<K>> {
  const task: MeasurementTask = { kind: 'measure', job, scanFiles: {}, meshFiles: { pipe: file } };
  const outcome = await pool.run(task);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  // As a cache file keeps it: JSON knows no minus zero.
  const kept = JSON.parse(JSON.stringify(outcome.result));
  expect(checkedResult(job.kind, kept)?.result).toEqual(kept);
  return outcome.result as MeasureResult<K>;
}

const volumeOf = (mesh: TriangleMesh): number => massProperties(mesh).volume;

describe('a part file', () => {
  it('is read, joined at equal vertices and written as triangles', async () => {
    const [file, out] = [join(folder, 'pipe.stl'), join(folder, 'read.mesh')];
    writeFileSync(file, stlBytes(pipe));
    const outcome = await pool.run({ kind: 'readMesh', file, unitFactor: 0.001, out });
    expect(outcome).toMatchObject({
      ok: true,
      result: { format: 'stl-binary', unitStated: false, unitFactor: 0.001, triangles: 480, vertices: 240 },
    });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(outcome.result.bounds.greatest[2]).toBeCloseTo(0.1, 8);
    expect('mesh' in outcome.result).toBe(false);
    expect(volumeOf(readMeshFile(out))).toBeCloseTo(volumeOf(pipe), 9);
  });

  it('of STEP states its unit', async () => {
    const [file, out] = [join(samples, 'cube-units', 'cube-mm.step'), join(folder, 'cube.mesh')];
    const outcome = await pool.run({ kind: 'readMesh', file, unitFactor: 0.0254, out });
    expect(outcome).toMatchObject({ ok: true, result: { format: 'step', unitStated: true, unitFactor: 1 } });
    expect(volumeOf(readMeshFile(out))).toBeCloseTo(1, 9);
  });

  it('that is none is refused as data, and nothing is written', async () => {
    const [file, out] = [join(folder, 'notes.txt'), join(folder, 'none.mesh')];
    writeFileSync(file, 'weld it well');
    const outcome = await pool.run({ kind: 'readMesh', file, unitFactor: 0.001, out });
    expect(outcome).toMatchObject({ ok: false, problem: { code: 'unknown-format' } });
    expect(() => readFileSync(out)).toThrow(/ENOENT/);
  });

  it('that takes too long costs its own thread only, and what waits behind it is done', async () => {
    const hurried = createMeasurePool(1, 250);
    try {
      // The thread is up before the clock runs.
      await hurried.run({ kind: 'exportMesh', meshFile, format: 'stl' });
      const out = join(folder, 'slow.mesh');
      const slow = hurried.run({
        kind: 'readMesh',
        file: join(samples, 'cax-if', 'as1-oc-214.stp'),
        unitFactor: 0.001,
        out,
      });
      const behind = hurried.run({ kind: 'exportMesh', meshFile, format: 'stl' });
      expect(await slow).toMatchObject({
        ok: false,
        problem: { code: 'took-too-long', message: expect.stringMatching(/read within 0\.25 s/) },
      });
      expect(() => readFileSync(out)).toThrow(/ENOENT/);
      expect(await behind).toMatchObject({ ok: true });
    } finally {
      await hurried.destroy();
    }
  });
});

describe('a part handed out', () => {
  it.each(exportFormats)('as %s is the part again', async (format) => {
    const made = await pool.run({ kind: 'exportMesh', meshFile, format });
    if (!made.ok) throw new Error(made.problem.message);
    const file = join(folder, `out.${format}`);
    writeFileSync(file, made.result.bytes);
    const back = readMesh(file, { unitFactor: 0.001 });
    if (!back.ok) throw new Error(back.problem.message);
    expect(volumeOf(back.read.mesh)).toBeCloseTo(volumeOf(pipe), 9);
  });

  it('turned as it is built stands on the plate', async () => {
    const made = await pool.run({ kind: 'exportMesh', meshFile, format: 'ply', turn: [Math.PI / 2, 0, 0] });
    if (!made.ok) throw new Error(made.problem.message);
    const file = join(folder, 'turned.ply');
    writeFileSync(file, made.result.bytes);
    const back = readMesh(file, { unitFactor: 0.001 });
    if (!back.ok) throw new Error(back.problem.message);
    const { positions } = back.read.mesh;
    const along = (axis: number) => Array.from(positions.filter((_, i) => i % 3 === axis));
    expect(Math.min(...along(2))).toBeCloseTo(0, 12);
    expect(Math.max(...along(2))).toBeCloseTo(0.04, 9);
    // About X the part's z turns to -y.
    expect(Math.min(...along(1))).toBeCloseTo(-0.1, 9);
  });

  it('needs its mesh file', async () => {
    const gone = await pool.run({ kind: 'exportMesh', meshFile: join(folder, 'absent.mesh'), format: 'stl' });
    expect(gone).toMatchObject({
      ok: false,
      problem: { code: 'bad-mesh-file', message: expect.stringMatching(/cannot be read/) },
    });
    const another = await pool.run({ kind: 'exportMesh', meshFile: join(folder, 'pipe.stl'), format: 'stl' });
    expect(another).toMatchObject({ ok: false, problem: { code: 'bad-mesh-file' } });
  });
});

describe('measures of a part', () => {
  it('say what its mesh is like, and where it is wrong', async () => {
    const report = await measured<'meshReport'>({ kind: 'meshReport', mesh: 'pipe' });
    expect(report).toMatchObject({ openEdges: 0, shells: 1, selfIntersections: 0, triangles: 480, at: null });
    expect(report.volume).toBeCloseTo(volumeOf(pipe), 12);
    expect(report.greatest[2]).toBe(0.1);

    const [open, crossed] = [join(folder, 'open.mesh'), join(folder, 'crossed.mesh')];
    writeMeshFile(open, { positions: pipe.positions, indices: pipe.indices.slice(3) });
    const torn = await measured<'meshReport'>({ kind: 'meshReport', mesh: 'pipe' }, open);
    expect(torn).toMatchObject({ openEdges: 3, holes: 1 });
    // On one of the edges of the triangle taken away, whose corners all lie at one facet of the outside.
    expect(Math.hypot(torn.at?.[0] ?? 0, torn.at?.[1] ?? 0)).toBeCloseTo(0.02, 3);
    writeMeshFile(crossed, joinMeshes([pipe, pipeMesh({ outer: 0.019, inner: 0.017 }, 0.09, 60)]));
    const overlapping = await measured<'meshReport'>({ kind: 'meshReport', mesh: 'pipe' }, crossed);
    expect(overlapping.selfIntersections).toBeGreaterThan(0);
    expect(overlapping.at).not.toBeNull();
  });

  it('say how it stands: upright it needs no support, lying it needs some that is trapped in its bore', async () => {
    const upright = await measured<'pose'>({
      kind: 'pose',
      mesh: 'pipe',
      turn: [0, 0, 0],
      overhangAngle: 45 * degree,
      leastAngle: 40 * degree,
    });
    expect(upright.downskinArea - upright.plateArea).toBeCloseTo(0, 12);
    expect(upright).toMatchObject({
      trappedArea: 0,
      trappedAt: null,
      hangingArea: 0,
      hangingAt: null,
      slope: Math.PI / 2,
    });
    const lying = await measured<'pose'>({
      kind: 'pose',
      mesh: 'pipe',
      turn: [Math.PI / 2, 0, 0],
      overhangAngle: 45 * degree,
      leastAngle: 40 * degree,
    });
    expect(lying.box[2]).toBeCloseTo(0.04, 4);
    // A quarter of the outside and of the bore lies flatter than 45 degrees.
    const quarters = ((0.02 + 0.018) * Math.PI * 0.1) / 2;
    expect(lying.downskinArea).toBeGreaterThan(0.9 * quarters);
    expect(lying.downskinArea).toBeLessThan(1.1 * quarters);
    // The bore is 2.8 diameters long and open at both ends: its supports are reached.
    expect(lying.trappedArea).toBe(0);
    expect(Math.hypot(lying.hangingAt?.[0] ?? 0, lying.hangingAt?.[1] ?? 0)).toBeGreaterThan(0.0179);
  });

  it('find poses, the best upright, with how flat the bore lies', async () => {
    const tube = { nodes: [0, 0, -0.05, 0, 0, 0, 0.2, 0], outerRadius: 0.022, fromS: 0 };
    const past = { nodes: [0.2, 0, -0.05, 0, 0.25, 0, 0.2, 0], outerRadius: 0.022, fromS: 0 };
    const job = { kind: 'poseSearch', mesh: 'pipe', overhangAngle: 45 * degree, count: 4 } as const;
    const { choices, volume } = await measured<'poseSearch'>({ ...job, tubes: [past, tube] });
    const [best] = choices;
    expect(volume / (Math.PI * (0.02 ** 2 - 0.018 ** 2) * 0.1)).toBeCloseTo(1, 1);
    expect(best?.leastBoreAngle).toBeCloseTo(90 * degree, 6);
    for (const { turn, leastBoreAngle } of choices) {
      // How far the axis of the pipe, turned about X, then Y, stands up; turning on about Z changes nothing of it.
      const up = Math.cos(turn[0]) * Math.cos(turn[1]);
      expect(leastBoreAngle).toBeCloseTo(Math.asin(Math.min(1, Math.abs(up))), 6);
    }
    expect(choices.length).toBeGreaterThan(1);
    const without = await measured<'poseSearch'>({ ...job, tubes: [past] });
    expect(new Set(without.choices.map(({ leastBoreAngle }) => leastBoreAngle))).toEqual(new Set([null]));
    expect(best?.supportToPart).toBeCloseTo(0, 9);
    expect(best?.height).toBeCloseTo(0.1, 9);
    const again = await measured<'pose'>({
      kind: 'pose',
      mesh: 'pipe',
      turn: best?.turn ?? [1, 1, 1],
      overhangAngle: 45 * degree,
      leastAngle: 40 * degree,
    });
    expect(again.box[2]).toBeCloseTo(best?.height ?? 0, 9);
    expect(again.downskinArea).toBeCloseTo(best?.downskinArea ?? 0, 9);
  });

  it('find its wall, its gap and what it closes in', async () => {
    const wall = await measured<'thinnestWall'>({ kind: 'thinnestWall', mesh: 'pipe' });
    expect(wall.smallest).toBeCloseTo(0.002 * halfFacet, 6);
    expect(await measured<'innerGap'>({ kind: 'innerGap', mesh: 'pipe' })).toEqual({
      gap: 0.005,
      at: null,
      to: null,
      limit: 0.005,
    });
    const { edge, ...nothing } = await measured<'enclosed'>({ kind: 'enclosed', mesh: 'pipe', voxel: 0.001 });
    expect(nothing).toEqual({ count: 0, air: 0, openings: 0, second: 0, at: null });
    expect(edge).toBe(0.001);
  });

  it('find the volume that is hardest to empty', async () => {
    const file = join(folder, 'hollow.mesh');
    const cavity = flipped(boxMesh([0.02, 0.02, 0.01], [0.01, 0.01, 0.01]), () => true);
    const smaller = flipped(boxMesh([0.02, 0.02, 0.005], [0.01, 0.01, 0.03]), () => true);
    writeMeshFile(file, joinMeshes([boxMesh([0.04, 0.04, 0.04]), smaller, cavity]));
    const found = await measured<'enclosed'>({ kind: 'enclosed', mesh: 'pipe', voxel: 0.001 }, file);
    expect(found).toMatchObject({ count: 2, openings: 0, second: 0, at: [0.01, 0.01, 0.01], edge: 0.001 });
    expect(found.air).toBeCloseTo(0.02 * 0.02 * 0.01, 12);
    const bad = { kind: 'enclosed', mesh: 'pipe', voxel: 0 } as const;
    expect(await pool.run({ kind: 'measure', job: bad, scanFiles: {}, meshFiles: { pipe: file } })).toMatchObject({
      ok: false,
      problem: { code: 'bad-voxel' },
    });
  });

  it('find the bore that lies flattest', async () => {
    const tube = { nodes: [0, 0, -0.05, 0, 0, 0, 0.2, 0], outerRadius: 0.022, fromS: 0 };
    const past = { nodes: [0.2, 0, -0.05, 0, 0.2, 0, 0.2, 0], outerRadius: 0.022, fromS: 0 };
    const job = { kind: 'boreTilt', mesh: 'pipe', turn: [60 * degree, 0, 0] } as const;
    const { flattest, hidden } = await measured<'boreTilt'>({ ...job, tubes: [past, tube] });
    expect(flattest?.tube).toBe(1);
    expect(flattest?.tilt).toBeCloseTo(30 * degree, 9);
    expect(flattest?.diameter).toBeGreaterThan(0.036 * halfFacet);
    expect(flattest?.diameter).toBeLessThan(0.036);
    // The bore is 2.8 diameters long and open at both ends.
    expect(hidden).toBeNull();
    expect(await measured<'boreTilt'>({ ...job, tubes: [past] })).toEqual({ flattest: null, hidden: null });
  });

  it('without a mesh file are a problem', async () => {
    const job = { kind: 'meshReport', mesh: 'other' } as const;
    const outcome = await pool.run({ kind: 'measure', job, scanFiles: {}, meshFiles: {} });
    expect(outcome).toMatchObject({ ok: false, problem: { code: 'bad-mesh-file' } });
  });

  it('are asked for through the service, by name', async () => {
    const service = await createMeasureService({
      pool,
      scanFile: () => '',
      meshFile: (name) => join(folder, `${name}.mesh`),
    });
    service.request({ kind: 'meshReport', mesh: 'pipe' });
    await service.idle();
    const state = service.request({ kind: 'meshReport', mesh: 'pipe' });
    expect(state.state === 'done' && state.result.triangles).toBe(480);
  });
});
