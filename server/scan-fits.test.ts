import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { sampleBox } from '../shared/geometry/generate.ts';
import { movedBy } from '../shared/geometry/motion.ts';
import { placedScan } from '../shared/geometry/placedScan.ts';
import { seededRandom } from '../shared/geometry/random.ts';
import type { Vec3 } from '../shared/geometry/vector.ts';
import { testFolder } from '../tests/support/folder.ts';
import type { ScanFile, ScanFits, ScanOnCar } from './http/parts.ts';
import type { MeasureTask, TaskOutcome } from './measure/jobs.ts';
import { writeBinaryPly } from './measure/ply.ts';
import { createMeasureService, type MeasureService } from './measure/service.ts';
import measure from './measure/workers/measure.ts';
import { ScanFitter } from './scan-fits.ts';
import { type ScanGrids, scanGrids, scanKey, scanMeasure } from './scans.ts';

/* The worker's own body runs here in the test's thread; how well it fits is told by its own test. */

const TURN = 0.01;
const [C, S] = [Math.cos(TURN), Math.sin(TURN)];
/** How the second look at the box lies to the first. */
const off = {
  rotation: [
    [C, -S, 0],
    [S, C, 0],
    [0, 0, 1],
  ],
  translation: [0.001, -0.0015, 0.002],
} as const;
const stay = {
  rotation: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  translation: [0, 0, 0],
} as const;

let folder: ReturnType<typeof testFolder>;
let grids: ScanGrids;
let service: MeasureService;
let fits: ScanFits;
let tasks: string[];
let read: ReturnType<typeof scanMeasure>['readScan'];
beforeEach(async () => {
  folder = testFolder();
  grids = scanGrids(folder.path);
  tasks = [];
  const pool = {
    threads: 1,
    run: <T extends MeasureTask>(task: T) => {
      tasks.push(task.kind);
      return measure(task) as Promise<TaskOutcome<T>>;
    },
  };
  service = await createMeasureService({ pool, scanFile: grids.file, meshFile: () => 'none' });
  read = scanMeasure(pool, grids).readScan;
  fits = new ScanFitter<ScanFile>({ pool, grids, ask: service.request, readScan: read });
});
afterEach(async () => {
  await service.idle();
  folder.dispose();
});

/** A look at a box of 60 mm, moved. */
function look(letter: string, seed: number, motion: typeof off | typeof stay = stay): ScanOnCar & { scan: ScanFile } {
  const box = { centre: [0, 0, 0], size: [0.06, 0.05, 0.04] } as const;
  const points = sampleBox(box, { spacing: 0.002, sigma: 0.0001 }, seededRandom(seed));
  for (let i = 0; i < points.length; i += 3)
    points.set(movedBy(motion, [points[i] ?? 0, points[i + 1] ?? 0, points[i + 2] ?? 0]), i);
  const file = join(folder.path, `${letter}.ply`);
  writeFileSync(file, writeBinaryPly(points, 1000));
  const scan = { file, name: `${letter}.ply`, sha256: letter.repeat(64), unit: 'mm', metresPerUnit: 1e-3 } as const;
  return { scan, name: scanKey(scan) };
}

async function fitted(moving: ScanOnCar, onto: ScanOnCar) {
  expect(await fits.ask(moving, onto)).toEqual({ state: 'pending' });
  await service.idle();
  const stand = await fits.ask(moving, onto);
  if (stand.state !== 'done') throw new Error(JSON.stringify(stand));
  return stand;
}

it('reads both scans when they have not been read, lays one on the other and makes the copy that lies so', async () => {
  const [moving, onto] = [look('a', 3, off), look('b', 4)];
  const { motion, result } = await fitted(moving, onto);
  expect(result.settled).toBe(true);
  expect(result.after.rms).toBeLessThan(result.before.rms / 3);
  const corner: Vec3 = [0.03, 0.025, 0.02];
  for (const [k, x] of movedBy(motion, movedBy(off, corner)).entries())
    expect(Math.abs(x - (corner[k] ?? 0))).toBeLessThan(1e-4);
  const file = await fits.copy(moving.scan, motion);
  const copy = { ...moving.scan, file, sha256: 'c'.repeat(64) };
  expect(await read(copy)).toMatchObject({ kind: 'read', points: await points(moving) });
  const again = await fitted({ scan: copy, name: scanKey(copy) }, onto);
  expect(again.result.before.rms).toBeCloseTo(result.after.rms, 5);
  expect(again.result.shift).toBeLessThan(5e-5);
  expect(await fits.copy(moving.scan, motion)).not.toBe(file);
});

async function points({ scan }: ScanOnCar): Promise<number> {
  const reading = await read(scan);
  return reading.kind === 'read' ? reading.points : Number.NaN;
}

it('fits a scan where its name puts it', async () => {
  const [moving, onto] = [look('a', 3), look('b', 4)];
  const { motion } = await fitted({ ...moving, name: placedScan(moving.name, off) }, onto);
  for (const [k, x] of motion.translation.entries()) expect(Math.abs(x + (off.translation[k] ?? 0))).toBeLessThan(2e-4);
});

it('says why scans that are apart cannot be laid on each other', async () => {
  const far = { rotation: stay.rotation, translation: [1, 0, 0] } as const;
  const [moving, onto] = [look('a', 3), look('b', 4)];
  const placed = { ...moving, name: placedScan(moving.name, far) };
  await fits.ask(placed, onto);
  await service.idle();
  expect(await fits.ask(placed, onto)).toMatchObject({ state: 'failed', reason: expect.stringMatching(/overlap/) });
});

it('makes a copy of a damaged grid from the scan as it was uploaded; what cannot be read leaves nothing behind', async () => {
  const { scan } = look('a', 3);
  await read(scan);
  writeFileSync(grids.file(scanKey(scan)), 'cut short');
  tasks.length = 0;
  const file = await fits.copy(scan, off);
  expect(tasks.filter((kind) => kind !== 'tileScan')).toEqual(['moveScan', 'readScan', 'moveScan']);
  expect(existsSync(file)).toBe(true);
  rmSync(grids.file(scanKey(scan)));
  writeFileSync(scan.file, 'no scan any more');
  await expect(fits.copy(scan, off)).rejects.toThrow(/scan a\.ply: /);
  await expect(fits.ask({ scan, name: scanKey(scan) }, look('b', 4))).rejects.toThrow(/scan a\.ply: /);
});
