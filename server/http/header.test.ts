import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { stlBytes } from '../../shared/geometry/mesh/exportStl.ts';
import { massProperties } from '../../shared/geometry/mesh/massProperties.ts';
import { meshReport } from '../../shared/geometry/mesh/meshReport.ts';
import { weldVertices } from '../../shared/geometry/mesh/weld.ts';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { boxMesh } from '../../tests/support/boxMesh.ts';
import { testFolder } from '../../tests/support/folder.ts';
import { type TestServer, testServer } from '../../tests/support/http-server.ts';
import { stepMesh } from '../../tests/support/stepReader.ts';
import { headerFiles } from '../header-files.ts';
import type { MeasureTask, TaskOutcome } from '../measure/jobs.ts';
import { readMesh } from '../measure/readers/mesh/mesh-file.ts';
import measure from '../measure/workers/measure.ts';
import { meshFiles } from '../parts.ts';

const fabricated = { 'route.made': 'fabricated' };
let entries: Map<string, unknown>;
let server: TestServer;
// In this thread: what a worker does is the same.
const pool = { run: <T extends MeasureTask>(task: T) => measure(task) as Promise<TaskOutcome<T>> };
const folder = testFolder();
const files = meshFiles(folder.path);
beforeEach(async () => {
  entries = baseEntries(fabricated);
  server = await testServer({
    headerFile: headerFiles(pool, files),
    live: { entries: async () => entries },
  });
});
afterEach(() => server.close());

async function fetched(login: string, file: string) {
  const id = await server.project({ lead: ['lead'], rev: ['reviewer'] });
  const { visitor } = await server.person(login);
  return visitor.send('GET', `/api/projects/${id}/${file}`);
}

function meshOf(name: string, bytes: Uint8Array) {
  const file = join(folder.path, name);
  writeFileSync(file, bytes);
  const outcome = readMesh(file, { unitFactor: 0.001 });
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return weldVertices(outcome.read.mesh, 1e-7).mesh;
}

describe('the whole header as a file', () => {
  it('as STEP holds the runners', async () => {
    const answer = await fetched('lead', 'header.step');
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-disposition')).toContain('header.step');
    const mesh = await stepMesh(new TextDecoder().decode(answer.bytes));
    expect(meshReport(weldVertices(mesh, 1e-7).mesh).openEdges).toBe(0);
  });

  it('as STL, 3MF, GLB and PLY is one closed solid of one volume', async () => {
    const volumes: number[] = [];
    for (const format of ['stl', '3mf', 'glb', 'ply']) {
      const answer = await fetched('lead', `header.${format}`);
      expect(answer.status, format).toBe(200);
      const mesh = meshOf(`header.${format}`, answer.bytes);
      expect(meshReport(mesh), format).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, selfIntersections: 0 });
      volumes.push(massProperties(mesh).volume);
    }
    for (const volume of volumes) expect(Math.abs(volume / (volumes[0] ?? 0) - 1)).toBeLessThan(1e-4);
    expect(volumes[0]).toBeGreaterThan(1e-5);
  }, 60_000);

  it('is made of the pieces once there are printed ones', async () => {
    const sha = 'c'.repeat(64);
    entries = baseEntries({ 'pieces.q1.mesh': sha });
    const source = join(folder.path, 'piece.stl');
    writeFileSync(source, stlBytes(boxMesh([0, 0, 0], [0.02, 0.03, 0.04])));
    await pool.run({ kind: 'readMesh', file: source, unitFactor: 0.001, out: files.file(`${sha}-mm`) });
    const answer = await fetched('lead', 'header.stl');
    expect(answer.status).toBe(200);
    expect(massProperties(meshOf('whole.stl', answer.bytes)).volume).toBeCloseTo(0.02 * 0.03 * 0.04, 9);
  });

  it.each([
    ['header.step', { ...fabricated, 'runners.r1.nodes.n2.radius': 0.9 }],
    ['header.stl', { ...fabricated, 'tube.wall': undefined }],
    ['header.glb', { 'pieces.q1.mesh': undefined }],
  ])('%s: says why there is none', async (file, change) => {
    entries = baseEntries(change);
    const answer = await fetched('lead', file);
    expect([answer.status, answer.body]).toMatchObject([422, { code: 'nothing-to-export' }]);
  });

  it('is not for strangers', async () => {
    const id = await server.project({ lead: ['lead'] });
    const { visitor } = await server.person('outsider');
    for (const file of ['header.step', 'header.stl'])
      expect((await visitor.send('GET', `/api/projects/${id}/${file}`)).status).toBe(404);
  });
});
