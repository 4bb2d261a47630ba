import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { stlBytes } from '../shared/geometry/mesh/exportStl.ts';
import { massProperties } from '../shared/geometry/mesh/massProperties.ts';
import { boxMesh } from '../shared/geometry/mesh/shapes.fixture.ts';
import { readMeshFile } from './measure/mesh-file.ts';
import { createMeasurePool } from './measure/pool.ts';
import { createMeasureService } from './measure/service.ts';
import { meshFiles } from './parts.ts';
import { meshRemaker } from './remake-mesh.ts';

const folder = mkdtempSync(join(tmpdir(), 'remake-'));
const pool = createMeasurePool(1);
const files = meshFiles(folder);
afterAll(async () => {
  await pool.destroy();
  rmSync(folder, { recursive: true });
});

const [good, bad] = ['a'.repeat(64), 'b'.repeat(64)];
writeFileSync(join(folder, good), stlBytes(boxMesh([0.1, 0.1, 0.1])));
writeFileSync(join(folder, bad), 'no part at all');
const remake = meshRemaker({
  pool,
  files,
  blobs: { localFile: async (sha) => ([good, bad].includes(sha) ? join(folder, sha) : undefined) },
});

describe('a mesh file made again', () => {
  it('comes from the part as uploaded, in the unit of its name', async () => {
    expect(await remake(`${good}-mm`)).toBe(true);
    expect(massProperties(readMeshFile(files.file(`${good}-mm`))).volume).toBeCloseTo(1e-3, 9);
    expect(await remake(`${good}-cm`)).toBe(true);
    expect(massProperties(readMeshFile(files.file(`${good}-cm`))).volume).toBeCloseTo(1, 6);
  });

  it.each([
    ['a part that was never kept', `${'c'.repeat(64)}-mm`],
    ['a file that is no part', `${bad}-mm`],
    ['no unit', good],
    ['a unit there is not', `${good}-furlong`],
    ['no name of a part', '../../etc-mm'],
  ])('is none for %s, and nothing is left behind', async (_, name) => {
    const before = readdirSync(join(folder, 'meshes'));
    expect(await remake(name)).toBe(false);
    expect(readdirSync(join(folder, 'meshes'))).toEqual(before);
  });

  it('serves a measurement whose mesh file was cut short', async () => {
    const name = `${good}-mm`;
    writeFileSync(files.file(name), 'cut');
    const service = await createMeasureService({ pool, scanFile: () => '', meshFile: files.file, remakeMesh: remake });
    service.request({ kind: 'meshReport', mesh: name });
    await service.idle();
    expect(service.request({ kind: 'meshReport', mesh: name })).toMatchObject({
      state: 'done',
      result: { openEdges: 0, triangles: 12 },
    });
  });
});
