import { rmSync, writeFileSync } from 'node:fs';
import { afterAll, afterEach, beforeEach, describe, expect, it } from 'vitest';
import { NEARNESS_FAR } from '../../shared/geometry/nearness.ts';
import { tilesOf } from '../../shared/geometry/tiles.ts';
import { type AskedNearness, askedNearnessSchema } from '../../shared/protocol/nearness.ts';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { boxMesh } from '../../tests/support/boxMesh.ts';
import { testFolder } from '../../tests/support/folder.ts';
import { type TestServer, testServer, type Visitor } from '../../tests/support/http-server.ts';
import type { MeasureTask, TaskOutcome } from '../measure/jobs.ts';
import { writeMeshFile } from '../measure/mesh-file.ts';
import { writeBinaryPly } from '../measure/ply.ts';
import measure from '../measure/workers/measure.ts';
import { meshFiles } from '../parts.ts';
import { NearnessShelf } from '../scan-nearness.ts';
import { scanGrids, scanKey, scanMeasure } from '../scans.ts';
import type { Measure } from './parts.ts';

/* The worker's own body runs here in the test's thread; which points are how near is told by its own test. */

const folder = testFolder();
afterAll(() => folder.dispose());
const grids = scanGrids(folder.path);
const meshes = meshFiles(folder.path);
/** The part of the one piece there is. */
const part = `${'b'.repeat(64)}-mm`;
let partsBrought: boolean;
let tasks: string[];
let entries: Map<string, unknown>;
let server: TestServer;
let measuring: Measure;
let project: string;
let scan: string;
let key: string;
let reviewer: Visitor;

/** Three sheets: one beside the first runner, one beside the second, 100 mm apart as they are, and one far from both. */
const points = Float32Array.from(
  [-0.04, 0.14, -0.7].flatMap((x) => Array.from({ length: 900 }, (_, i) => [x, 0.1 + (i % 30) / 300, i / 4500])).flat(),
);

beforeEach(async () => {
  tasks = [];
  partsBrought = false;
  rmSync(meshes.file(part), { force: true });
  entries = baseEntries();
  const pool = {
    run: <T extends MeasureTask>(task: T) => {
      tasks.push(task.kind);
      return measure(task) as Promise<TaskOutcome<T>>;
    },
  };
  measuring = scanMeasure(pool, grids);
  server = await testServer({
    live: { entries: async () => entries },
    nearness: new NearnessShelf({
      pool: () => pool,
      scanFile: (one) => grids.file(scanKey(one)),
      meshFile: meshes.file,
      tiles: measuring.tiles,
      readScan: measuring.readScan,
      remakeMesh: async (mesh) => {
        if (!partsBrought) return false;
        writeMeshFile(meshes.file(mesh), boxMesh([-0.03, 0.1, 0.1], [-0.025, 0.12, 0.12]));
        return true;
      },
    }),
  });
  project = await server.project({ lead: ['lead'], rev: ['reviewer'] });
  reviewer = (await server.person('rev')).visitor;
  ({ id: scan, key } = await added(project));
});
afterEach(() => server.close());

async function added(to: string): Promise<{ readonly id: string; readonly key: string }> {
  const { sha256 } = await server.blobs.write(writeBinaryPly(points));
  const figures = { points: points.length / 3, format: 'ply', unit: 'm', spacing: null, unplaced: 0 } as const;
  const bounds = { min: [-0.04, 0.1, 0], max: [0.14, 0.2, 0.2] } as const;
  const { account } = await server.person('lead');
  const id = `s-${to}`;
  await server.records.addScan({
    ...{ id, projectId: to, sha256, name: 'bay.ply', bytes: 1, uploadedBy: account.id, ...figures },
    ...{ bounds: { min: [...bounds.min], max: [...bounds.max] }, createdAt: '2026-01-01T00:00:00.000Z' },
  });
  return { id, key: `${sha256}-m` };
}

const path = (): string => `/api/projects/${project}/scans/${scan}/nearness`;

/** Asks until the answer is final; gives how often it was told to wait, too. */
async function asked(query = ''): Promise<{ readonly answer: AskedNearness; readonly waits: number }> {
  for (let waits = 0; waits < 10_000; waits++) {
    const { status, headers, body } = await reviewer.send('GET', path() + query);
    const answer = askedNearnessSchema.parse(body);
    expect(status).toBe(answer.state === 'pending' ? 202 : 200);
    expect(headers.get('retry-after')).toBe(answer.state === 'pending' ? '1' : null);
    if (answer.state !== 'pending') return { answer, waits };
  }
  throw new Error('never answered');
}

async function there() {
  const { answer } = await asked();
  if (answer.state !== 'there') throw new Error(JSON.stringify(answer));
  return answer;
}

/** Levels of each tile. */
async function levels(name: string): Promise<Uint8Array[]> {
  const { index } = await measuring.tiles({
    ...{ file: 'none', name: 'bay.ply', sha256: key.slice(0, 64), unit: 'm' as const, metresPerUnit: 1 },
  });
  let at = 0;
  const all: Uint8Array[] = [];
  for (const { count } of tilesOf(index)) {
    const { status, bytes, headers } = await reviewer.send('GET', `${path()}/${name}/${at}-${at + count}`);
    expect([status, headers.get('content-type')]).toEqual([200, 'application/octet-stream']);
    expect(headers.get('cache-control')).toBe('private, max-age=31536000, immutable');
    all.push(bytes);
    at += count;
  }
  return all;
}

describe('how near the header is to a scan', () => {
  it('is made when it is first asked for, and given a byte a point that may be kept for good', async () => {
    const { answer, waits } = await asked();
    expect(waits).toBeGreaterThan(0);
    if (answer.state !== 'there') throw new Error(JSON.stringify(answer));
    const why = expect.stringMatching(/its part has not been brought to this server/);
    expect(answer).toMatchObject({ cap: 0.06, leftOut: [{ name: 'Runner 1', why }] });
    const got = await levels(answer.name);
    expect(got.map((one) => one.length).reduce((a, b) => a + b)).toBe(points.length / 3);
    expect(answer.tiles.map((sum) => sum === '')).toEqual(got.map((one) => one.every((b) => b === NEARNESS_FAR)));
    // The sheets stand 40 mm beside centrelines of tubes of 44.5 mm.
    expect(Math.min(...got.flatMap((one) => [...one]))).toBe(Math.round((254 * (0.04 - 0.02225)) / 0.06));
    const before = tasks.length;
    expect((await there()).name).toBe(answer.name);
    expect(tasks).toHaveLength(before);
  });

  it('has another name after an edit, and other sums only where a byte is another', async () => {
    const first = await there();
    const was = await levels(first.name);
    entries = baseEntries({ 'runners.r2.nodes.n2.x': 0.098 });
    const second = await there();
    expect(second.name).not.toBe(first.name);
    const is = await levels(second.name);
    const same = was.map((one, i) => Buffer.compare(one, is[i] ?? new Uint8Array()) === 0);
    expect(second.tiles.map((sum, i) => sum === first.tiles[i])).toEqual(same);
    expect(new Set(same)).toEqual(new Set([true, false]));
    expect(first.tiles).toContain('');
  });

  it('names what of the header is not in it, and says why there is none', async () => {
    entries = baseEntries({ 'runners.r2.nodes.n2.radius': 0.5 });
    expect((await there()).leftOut[0]).toMatchObject({ name: 'Runner 2', why: expect.stringMatching(/bend/) });
    entries = baseEntries({ 'flange.thickness': undefined });
    expect((await asked()).answer).toMatchObject({ state: 'none', why: expect.stringMatching(/Runner 1: .*hickness/) });
    expect((await asked('?placed=by-datums')).answer.state).not.toBe('pending');
    const { status, body } = await reviewer.send('GET', `${path()}?placed=upside-down`);
    expect([status, body]).toMatchObject([400, { code: 'bad-request' }]);
  });

  it('takes in a piece whose part is there, read again when what was made of it is gone', async () => {
    partsBrought = true;
    const { name, leftOut } = await there();
    expect(leftOut).toEqual([]);
    // The piece stands 10 mm beside the sheet.
    expect(Math.min(...(await levels(name)).flatMap((one) => [...one]))).toBe(Math.round((254 * 0.01) / 0.06));
    writeFileSync(meshes.file(part), 'cut short');
    entries = baseEntries({ 'runners.r2.nodes.n2.x': 0.097 });
    expect((await there()).leftOut).toEqual([]);
    expect(tasks.filter((kind) => kind === 'nearness')).toHaveLength(2);
  });

  it('is made from the scan as it was uploaded when what was made of that is damaged', async () => {
    await there();
    writeFileSync(grids.file(key), 'cut short');
    entries = baseEntries({ 'runners.r2.nodes.n2.x': 0.099 });
    expect((await there()).tiles.length).toBeGreaterThan(0);
    expect(tasks.slice(-3)).toEqual(['nearness', 'readScan', 'nearness']);
  });

  it('is for members of the project alone, also by its name', async () => {
    const { name } = await there();
    const stranger = (await server.person('stranger')).visitor;
    for (const wanted of [path(), `${path()}/${name}/0-4`]) {
      expect((await stranger.send('GET', wanted)).status).toBe(404);
      expect((await server.visitor().send('GET', wanted)).status).toBe(401);
    }
    const { status, body } = await reviewer.send('GET', `${path()}/${'0'.repeat(32)}/0-4`);
    expect([status, body]).toMatchObject([404, { code: 'not-found', came: '0'.repeat(32) }]);
    const beyond = await reviewer.send('GET', `${path()}/${name}/0-${points.length}`);
    expect([beyond.status, beyond.body]).toMatchObject([400, { expected: `an end up to ${points.length / 3}` }]);
  });
});
