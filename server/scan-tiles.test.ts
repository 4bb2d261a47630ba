import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { ScanFile } from './http/parts.ts';
import type { MeasureTask, TaskOutcome } from './measure/jobs.ts';
import { writeBinaryPly } from './measure/ply.ts';
import measure from './measure/workers/measure.ts';
import { scanGrids, scanKey, scanMeasure } from './scans.ts';

/*
 * The worker's own body runs here in the test's thread: what is told is when tiles are made, not how.
 */

let folder: string;
let tasks: string[];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'slipjoint-scan-tiles-'));
  tasks = [];
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const points = Float32Array.from({ length: 300 }, (_, i) => (i % 7) * 0.01);

function scanned() {
  const file = join(folder, 'bay.ply');
  writeFileSync(file, writeBinaryPly(points));
  const scan: ScanFile = { file, name: 'bay.ply', sha256: 'a'.repeat(64), unit: 'm', metresPerUnit: 1 };
  const grids = scanGrids(folder);
  const run = async (task: MeasureTask): Promise<TaskOutcome> => {
    tasks.push(task.kind);
    return measure(task);
  };
  const measuring = scanMeasure({ run: run as never }, grids);
  const key = scanKey(scan);
  return { scan, measuring, grid: grids.file(key), tiles: grids.tiles(key) };
}

it('makes tiles right after a scan was read, and once however many ask', async () => {
  const { scan, measuring, tiles } = scanned();
  await measuring.readScan(scan);
  const [one, other] = await Promise.all([measuring.tiles(scan), measuring.tiles(scan)]);
  expect(existsSync(tiles)).toBe(true);
  expect(one.index).toBe(other.index);
  expect(one.index.points).toBe(100);
  expect((await one.bytes(0, one.length)).length).toBe(one.length);
  expect(tasks).toEqual(['readScan', 'tileScan']);
});

it('tells how many points had no place, and keeps none of them', async () => {
  const { scan, measuring } = scanned();
  writeFileSync(scan.file, writeBinaryPly(points.map((x, i) => (i % 10 ? x : Number.NaN))));
  expect(await measuring.readScan(scan)).toMatchObject({ kind: 'read', points: 70, unplaced: 30 });
  expect((await measuring.tiles(scan)).index.points).toBe(70);
});

it('reads the scan first when its grid is gone', async () => {
  const { scan, measuring } = scanned();
  expect((await measuring.tiles(scan)).index.points).toBe(100);
  expect(tasks).toEqual(['readScan', 'tileScan']);
});

it('uses tiles of an earlier run, and makes damaged ones anew', async () => {
  const first = scanned();
  const { stamp } = (await first.measuring.tiles(first.scan)).index;
  const again = scanned();
  expect((await again.measuring.tiles(again.scan)).index.stamp).toBe(stamp);
  expect(tasks).toEqual(['readScan', 'tileScan']);
  writeFileSync(again.tiles, 'cut short');
  const repaired = scanned();
  expect((await repaired.measuring.tiles(repaired.scan)).index.stamp).toBe(stamp);
  expect(tasks).toEqual(['readScan', 'tileScan', 'tileScan']);
});

it('reads the scan again when its grid is damaged', async () => {
  const first = scanned();
  await first.measuring.readScan(first.scan);
  await first.measuring.tiles(first.scan);
  rmSync(first.tiles);
  writeFileSync(first.grid, 'cut short');
  const again = scanned();
  expect((await again.measuring.tiles(again.scan)).index.points).toBe(100);
  expect(tasks.slice(2)).toEqual(['tileScan', 'readScan', 'tileScan']);
});

it('says what is wrong with a scan that cannot be read, and tries again when asked again', async () => {
  const { scan, measuring } = scanned();
  writeFileSync(scan.file, 'no points at all');
  await expect(measuring.tiles(scan)).rejects.toThrow(/scan bay\.ply: /);
  writeFileSync(scan.file, writeBinaryPly(points));
  expect((await measuring.tiles(scan)).index.points).toBe(100);
});
