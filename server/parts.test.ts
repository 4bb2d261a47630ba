import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { threeMfBytes } from '../shared/geometry/mesh/export3mf.ts';
import { glbBytes } from '../shared/geometry/mesh/exportGlb.ts';
import { plyBytes } from '../shared/geometry/mesh/exportPly.ts';
import { stlBytes } from '../shared/geometry/mesh/exportStl.ts';
import { boxMesh } from '../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../shared/geometry/mesh/triangleMesh.ts';
import {
  askedPosesSchema,
  askedReportSchema,
  mendedPartSchema,
  partListSchema,
  partResultSchema,
  scanListSchema,
} from '../shared/protocol/http.ts';
import type { Role } from '../shared/protocol/roles.ts';
import { baseEntries } from '../tests/support/baseSpec.ts';
import { testFolder } from '../tests/support/folder.ts';
import { type Answer, type TestServer, testServer, type Visitor } from '../tests/support/http-server.ts';
import { createMeasurePool, type MeasurePool } from './measure/pool.ts';
import { obj } from './measure/readers/mesh/mesh-file.fixture.ts';
import { createMeasureService, type MeasureService } from './measure/service.ts';
import { type MeshFiles, meshFiles, partMeshes } from './parts.ts';

const BOX = boxMesh([0.1, 0.06, 0.04]);
const samples = join(dirname(createRequire(import.meta.url).resolve('occt-import-js/package.json')), 'test/testfiles');
const base64 = (value: string) => Buffer.from(value).toString('base64');

let pool: MeasurePool;
beforeAll(() => {
  pool = createMeasurePool(1);
});
afterAll(() => pool.destroy());

let folder: ReturnType<typeof testFolder>;
let files: MeshFiles;
let service: MeasureService;
let server: TestServer;
let project: string;
let designer: Visitor;
let told: string[];
beforeEach(async () => {
  folder = testFolder();
  files = meshFiles(folder.path);
  service = await createMeasureService({ pool, scanFile: () => 'none', meshFile: files.file });
  told = [];
  server = await testServer({
    meshes: partMeshes({ pool, ask: service.request, files }),
    live: { partAdded: async (id) => void told.push(id), entries: async () => baseEntries() },
  });
  project = await server.project({ lead: ['lead'], draw: ['designer'], rev: ['reviewer'] });
  designer = (await server.person('draw')).visitor;
});
afterEach(async () => {
  await server.close();
  folder.dispose();
});

interface Brought {
  readonly name: string;
  readonly content: Uint8Array | string;
  readonly unit?: string;
  readonly by?: Visitor;
}

/** The last answer of an upload. */
async function bring({ name, content, unit = 'mm', by = designer }: Brought): Promise<Answer> {
  const bytes = new Uint8Array(Buffer.from(content));
  const metadata = Object.entries({ project, filename: name, unit, use: 'part' });
  const created = await by.send('POST', '/api/uploads', undefined, {
    'Tus-Resumable': '1.0.0',
    'Upload-Length': String(bytes.length),
    'Upload-Metadata': metadata.map(([key, value]) => `${key} ${base64(value)}`).join(','),
  });
  const location = created.headers.get('location');
  if (location === null) return created;
  const headers = { 'Tus-Resumable': '1.0.0', 'Upload-Offset': '0', 'Content-Type': 'application/offset+octet-stream' };
  return by.send('PATCH', location, bytes, headers);
}

async function brought(what: Brought) {
  const answer = await bring(what);
  if (answer.status !== 200) throw new Error(JSON.stringify(answer.body));
  return partResultSchema.parse(answer.body);
}

const get = (path: string, by = designer) => by.send('GET', `/api/projects/${project}/parts${path}`);
const box = (by: Partial<Brought> = {}) => brought({ name: 'box.stl', content: stlBytes(BOX), ...by });

/** Asks once, is told that it is being measured, and asks again when it has been. */
async function measured(path: string): Promise<Answer> {
  const first = await get(path);
  expect([first.status, first.headers.get('retry-after'), first.body]).toEqual([202, '1', { state: 'pending' }]);
  await service.idle();
  return get(path);
}

describe('a part that is uploaded', () => {
  const stated = { unitStated: true };
  const given = { unit: 'mm', unitStated: false };
  it.each<[string, () => Uint8Array | string, object]>([
    ['box.stl', () => stlBytes(BOX), { ...given, format: 'stl-binary' }],
    ['box.ply', () => plyBytes(BOX), { ...given, format: 'ply-binary-le' }],
    ['box.obj', () => obj(), { ...given, format: 'obj' }],
    ['box.3mf', () => threeMfBytes(BOX), { ...stated, unit: 'mm', format: '3mf' }],
    ['box.glb', () => glbBytes(BOX), { ...stated, unit: 'm', format: 'glb' }],
  ])('%s is read in metres, kept by content and listed', async (name, content, figures) => {
    const { part, known } = await brought({ name, content: content() });
    expect([known, part]).toMatchObject([false, { name, triangles: 12, ...figures }]);
    const size = part.bounds.max.map((most, k) => most - (part.bounds.min[k] ?? Number.NaN));
    for (const [k, side] of [0.1, 0.06, 0.04].entries()) expect(size[k]).toBeCloseTo(side, 7);
    expect(partListSchema.parse((await get('')).body).parts).toEqual([part]);
    const scans = await designer.send('GET', `/api/projects/${project}/scans`);
    expect(scanListSchema.parse(scans.body).scans).toEqual([]);
    expect(await server.blobs.verify(part.sha256)).toBe(true);
    expect([told, readdirSync(join(folder.path, 'meshes')).length]).toEqual([[project], 1]);
  });

  it('is read from STEP, in the unit it states', async () => {
    const content = readFileSync(join(samples, 'cube-units/cube-in.step'));
    const { part } = await brought({ name: 'cube.step', content, unit: 'cm' });
    expect(part).toMatchObject({ format: 'step', unitStated: true, triangles: 12 });
    for (const k of [0, 1, 2]) {
      expect((part.bounds.max[k] ?? Number.NaN) - (part.bounds.min[k] ?? Number.NaN)).toBeCloseTo(1, 9);
    }
  }, 60_000);

  it('is known when it comes again, and another part in another unit', async () => {
    const first = await box();
    expect(await box()).toEqual({ part: first.part, known: true });
    const inch = await box({ unit: 'in' });
    expect([inch.known, inch.part.bounds.max[0]]).toEqual([false, expect.closeTo(2.54, 6)]);
  });

  it('is the same part whatever unit is given when the file states its own', async () => {
    const first = await brought({ name: 'box.3mf', content: threeMfBytes(BOX) });
    const again = await brought({ name: 'box.3mf', content: threeMfBytes(BOX), unit: 'in' });
    expect(again).toEqual({ part: first.part, known: true });
  });

  it('comes twice at once and is one part', async () => {
    const [one, other] = await Promise.all([box(), box()]);
    expect(one.part).toEqual(other.part);
    expect([one.known, other.known].sort()).toEqual([false, true]);
    expect(readdirSync(join(folder.path, 'meshes'))).toHaveLength(1);
  });
});

describe('a file that is no part', () => {
  const stl = stlBytes(BOX);
  it.each<[string, () => Uint8Array | string, RegExp]>([
    ['of another kind', () => 'nothing like a mesh', /expected|not/i],
    ['cut short', () => stl.slice(0, 300), /12/],
    ['a scan without faces', () => '0 0 0\n1 0 0\n0 1 0\n', /expected|not/i],
    ['with a coordinate that is no number', () => brokenCoordinate(stl), /NaN|finite|number/i],
  ])('%s is answered with the reason and not kept', async (_, content, reason) => {
    const answer = await bring({ name: 'box.stl', content: content() });
    expect([answer.status, answer.body]).toMatchObject([422, { code: 'unreadable-part' }]);
    expect((answer.body as { detail: string }).detail).toMatch(reason);
    expect(answer.headers.get('content-type')).toContain('application/problem+json');
    expect(partListSchema.parse((await get('')).body).parts).toEqual([]);
    expect([told, readdirSync(join(folder.path, 'meshes'))]).toEqual([[], []]);
  });

  it('names what it may be used for', async () => {
    const metadata = Object.entries({ project, filename: 'a.stl', unit: 'mm', use: 'ornament' });
    const answer = await designer.send('POST', '/api/uploads', undefined, {
      'Tus-Resumable': '1.0.0',
      'Upload-Length': '10',
      'Upload-Metadata': metadata.map(([key, value]) => `${key} ${base64(value)}`).join(','),
    });
    expect([answer.status, answer.body]).toMatchObject([400, { code: 'bad-request' }]);
    expect((answer.body as { expected: string }).expected).toMatch(/scan.*part/);
  });
});

function brokenCoordinate(stl: Uint8Array): Uint8Array {
  const out = Buffer.from(stl);
  out.writeFloatLE(Number.NaN, 84 + 12);
  return out;
}

describe('who may', () => {
  it.each(['reviewer', 'printer', 'machinist', 'welder'] satisfies Role[])('not bring a part: a %s', async (role) => {
    project = await server.project({ lead: ['lead'], [role]: [role] });
    const answer = await bring({ name: 'a.stl', content: stlBytes(BOX), by: (await server.person(role)).visitor });
    expect([answer.status, answer.body]).toMatchObject([403, { code: 'wrong-role', came: role }]);
  });

  it('see a part: members only', async () => {
    const { part } = await box();
    const reviewer = (await server.person('rev')).visitor;
    expect(partListSchema.parse((await get('', reviewer)).body).parts).toEqual([part]);
    expect((await get(`/${part.id}/mesh?format=stl`, reviewer)).status).toBe(200);
    await server.project({ other: ['lead'] });
    const stranger = (await server.person('other')).visitor;
    for (const path of ['', `/${part.id}/mesh?format=stl`, `/${part.id}/report`, `/${part.id}/poses`]) {
      expect([path, (await get(path, stranger)).status]).toEqual([path, 404]);
      expect([path, (await get(path, server.visitor())).status]).toEqual([path, 401]);
    }
  });

  it('see only parts of their own project', async () => {
    const { part } = await box();
    project = await server.project({ draw: ['designer'] });
    for (const path of ['mesh?format=stl', 'report', 'poses'])
      expect((await get(`/${part.id}/${path}`)).status).toBe(404);
  });
});

describe('a damaged part', () => {
  /** A box with one triangle turned, one twice and one of no area. */
  function damagedBox(): Uint8Array {
    const { positions, indices } = BOX;
    const [a = 0, b = 0, c = 0] = indices;
    const wrong = Uint32Array.of(...indices.subarray(0, 33), ...[...indices.subarray(33)].reverse(), a, b, c, a, a, b);
    return plyBytes({ positions, indices: wrong });
  }

  it('is mended as a copy: a part of its own, sound; the one that was brought stays', async () => {
    const { part } = await brought({ name: 'bracket.ply', content: damagedBox() });
    const answer = await designer.send('POST', `/api/projects/${project}/parts/${part.id}/mended`, {});
    expect(answer.status).toBe(201);
    const { part: made, account } = mendedPartSchema.parse(answer.body);
    expect(account).toEqual({
      weldedVertices: 0,
      droppedDegenerate: 1,
      droppedDuplicate: 1,
      turnedTriangles: 1,
      unturnable: 0,
    });
    expect(made).toMatchObject({ name: 'bracket mended.ply', triangles: 12, unit: 'mm' });
    for (const k of [0, 1, 2]) expect(made.bounds.max[k]).toBeCloseTo(part.bounds.max[k] ?? Number.NaN, 9);
    const { parts } = partListSchema.parse((await get('')).body);
    expect(parts.map(({ id }) => id).sort()).toEqual([part.id, made.id].sort());
    expect(told).toEqual([project, project]);
    const bytes = (await get(`/${made.id}/mesh?format=stl`)).bytes;
    expect(bytes.length).toBe(84 + 50 * 12);
  });

  it('is mended by whoever may bring parts, of this project', async () => {
    const { part } = await brought({ name: 'bracket.ply', content: damagedBox() });
    const mend = (who: typeof designer) => who.send('POST', `/api/projects/${project}/parts/${part.id}/mended`, {});
    expect((await mend((await server.person('rev')).visitor)).status).toBe(403);
    expect((await mend(server.visitor())).status).toBe(401);
  });
});

describe('a part is taken away', () => {
  it.each(['stl', '3mf', 'glb', 'ply'])('as %s, and is the same part when it comes back', async (format) => {
    const { part } = await box({ name: 'collector v2.stl' });
    const answer = await get(`/${part.id}/mesh?format=${format}`);
    expect([answer.status, answer.headers.get('cache-control')]).toEqual([200, expect.stringContaining('immutable')]);
    expect(answer.headers.get('content-disposition')).toContain(`"collector v2.${format}"`);
    const back = await brought({ name: `back.${format}`, content: answer.bytes });
    expect(back.part.triangles).toBe(part.triangles);
    for (const k of [0, 1, 2]) expect(back.part.bounds.max[k]).toBeCloseTo(part.bounds.max[k] ?? Number.NaN, 7);
  });

  it('in its build pose, standing on zero', async () => {
    const { part } = await box();
    const answer = await get(`/${part.id}/mesh?format=stl&turn=0,${-Math.PI / 2},0`);
    const { bounds } = (await brought({ name: 'turned.stl', content: answer.bytes })).part;
    expect([bounds.min[2], bounds.max[2]]).toEqual([expect.closeTo(0, 7), expect.closeTo(0.1, 7)]);
  });

  it.each(['', '?format=zip', '?format=stl&turn=1,2', '?format=stl&turn=0,0,x', '?format=stl&turn=0,0,7'])(
    'refuses the query "%s"',
    async (query) => {
      const { part } = await box();
      const answer = await get(`/${part.id}/mesh${query}`);
      expect([answer.status, answer.body]).toMatchObject([400, { code: 'bad-request' }]);
    },
  );

  it('also when its mesh file is gone: the part is read anew', async () => {
    const { part } = await box();
    const before = await get(`/${part.id}/mesh?format=ply`);
    rmSync(files.file(`${part.sha256}-mm`));
    const after = await get(`/${part.id}/mesh?format=ply`);
    expect(Buffer.compare(after.bytes, before.bytes)).toBe(0);
  });
});

describe('a part is measured', () => {
  const reportOf = async (content: TriangleMesh) => {
    const { part } = await brought({ name: 'a.stl', content: stlBytes(content) });
    const answer = await measured(`/${part.id}/report`);
    const report = askedReportSchema.parse(answer.body);
    if (answer.status !== 200 || report.state !== 'done') throw new Error(JSON.stringify(answer.body));
    return report.result;
  };

  it('for what is wrong with it: nothing', async () => {
    const clean = { openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0, shells: 1, holes: 0, at: null };
    const report = await reportOf(BOX);
    expect(report).toMatchObject({ ...clean, selfIntersections: 0, degenerate: 0, duplicate: 0, triangles: 12 });
    expect(report.volume).toBeCloseTo(0.1 * 0.06 * 0.04, 9);
    expect(report.area).toBeCloseTo(2 * (0.1 * 0.06 + 0.06 * 0.04 + 0.04 * 0.1), 7);
  });

  it('for what is wrong with it: a hole, with its place', async () => {
    const report = await reportOf({ ...BOX, indices: BOX.indices.slice(3) });
    expect(report).toMatchObject({ openEdges: 3, holes: 1, triangles: 11 });
    for (const [k, side] of [0.1, 0.06, 0.04].entries()) {
      expect(report.at?.[k]).toBeGreaterThanOrEqual(-1e-6);
      expect(report.at?.[k]).toBeLessThanOrEqual(side + 1e-6);
    }
  });

  it('for poses to build it in, best first', async () => {
    const { part } = await box();
    const poses = askedPosesSchema.parse((await measured(`/${part.id}/poses?alloy=CoCr`)).body);
    if (poses.state !== 'done') throw new Error(JSON.stringify(poses));
    expect(poses.result.overhang).toBeCloseTo((40 * Math.PI) / 180, 12);
    expect(poses.result.poses.length).toBeGreaterThan(2);
    // Six of the least support, two low ones and two of steep bores.
    expect(poses.result.poses.length).toBeLessThanOrEqual(10);
    expect(poses.result.volume).toBeCloseTo(0.1 * 0.06 * 0.04, 9);
    const support = poses.result.poses.map((pose) => pose.supportToPart);
    expect(support).toEqual([...support].sort((a, b) => a - b));
    // A box on any of its faces needs none.
    expect(support[0]).toBeCloseTo(0, 9);
    const refused = await get(`/${part.id}/poses?alloy=butter`);
    expect([refused.status, refused.body]).toMatchObject([400, { code: 'bad-request' }]);
  });
});
