import { appendFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import type { ClearanceJob, ClearanceResult } from '../../shared/geometry/measurement.ts';
import { jobKey } from '../../shared/geometry/measurement.ts';
import type { MeasurementTask, MeasureTask } from './jobs.ts';
import type { MeasurePool } from './pool.ts';
import { createMeasureService } from './service.ts';

const folder = mkdtempSync(join(tmpdir(), 'measure-'));
afterAll(() => rmSync(folder, { recursive: true }));

const job = (n: number): ClearanceJob => ({
  kind: 'clearance',
  scan: 'ab'.repeat(32),
  nodes: [n],
  outerRadius: 0.02,
  fromS: 0,
});
const resultOf = (n: number): ClearanceResult => ({
  gap: n,
  point: [n, 0, 0],
  foot: [0, n, 0],
  onTube: [0, 0, n],
  s: n,
  points: 7,
  cover: 0,
});

/** A pool whose jobs end when the test says so. */
function handPool(threads = 1) {
  const started: MeasurementTask<ClearanceJob>[] = [];
  const ends: ((outcome: unknown) => void)[] = [];
  const fails: ((error: Error) => void)[] = [];
  const run = (task: MeasureTask) => {
    if (task.kind !== 'measure' || task.job.kind !== 'clearance') throw new Error('only clearance is expected here');
    started.push({ ...task, job: task.job });
    return new Promise((resolve, reject) => {
      ends.push(resolve);
      fails.push(reject);
    });
  };
  const end = (i: number) => ends[i]?.({ ok: true, result: resultOf(started[i]?.job.nodes[0] ?? Number.NaN) });
  return { pool: { threads, run: run as MeasurePool['run'] }, started, end, ends, fails };
}

const settle = () => new Promise<void>((resolve) => setImmediate(resolve));
const scanFile = (sha: string) => `grids/${sha}`;
const meshFile = (name: string) => `meshes/${name}`;

describe('measure service', () => {
  it('measures a job once, tells its listeners once and keeps the result', async () => {
    const hand = handPool();
    const service = await createMeasureService({ pool: hand.pool, scanFile, meshFile });
    const told: [string, string][] = [];
    const stop = service.onResult((key, state) => told.push([key, state.state]));
    expect(service.request(job(1))).toEqual({ state: 'waiting' });
    expect(service.request({ ...job(1), nodes: [1] })).toEqual({ state: 'waiting' });
    expect(hand.started).toEqual([
      { kind: 'measure', job: job(1), scanFiles: { ['ab'.repeat(32)]: `grids/${'ab'.repeat(32)}` }, meshFiles: {} },
    ]);
    hand.end(0);
    await service.idle();
    expect(service.request(job(1))).toEqual({ state: 'done', result: resultOf(1) });
    expect(told).toEqual([[jobKey(job(1)), 'done']]);
    stop();
    service.request(job(2));
    hand.end(1);
    await service.idle();
    expect(told).toHaveLength(1);
    expect(hand.started).toHaveLength(2);
  });

  it('never has more jobs in the pool than threads and starts them in order', async () => {
    const hand = handPool(2);
    const service = await createMeasureService({ pool: hand.pool, scanFile, meshFile });
    for (const n of [1, 2, 3, 4]) service.request(job(n));
    expect(hand.started.map((t) => t.job.nodes[0])).toEqual([1, 2]);
    expect(service.counts()).toMatchObject({ queued: 2, running: 2 });
    hand.end(1);
    await settle();
    expect(hand.started.map((t) => t.job.nodes[0])).toEqual([1, 2, 3]);
    hand.end(0);
    hand.end(2);
    await settle();
    hand.end(3);
    await service.idle();
    expect(service.counts()).toMatchObject({ queued: 0, running: 0, kept: 4 });
  });

  it('lets slow kinds wait for the others, and leaves the others a thread', async () => {
    const started: string[] = [];
    const ends: (() => void)[] = [];
    const run = (task: MeasureTask) => {
      started.push(task.kind === 'measure' ? task.job.kind : task.kind);
      return new Promise((resolve) => ends.push(() => resolve({ ok: true, result: resultOf(1) })));
    };
    const pool = { threads: 2, run: run as MeasurePool['run'] };
    const service = await createMeasureService({ pool, scanFile, meshFile });
    for (const n of [1, 2, 3]) service.request({ kind: 'scanSpacing', scan: `s${n}`, tubes: [], reach: 0.06 });
    // One of two threads is kept free.
    expect(started).toEqual(['scanSpacing']);
    for (const n of [1, 2]) service.request(job(n));
    expect(started).toEqual(['scanSpacing', 'clearance']);
    ends[0]?.();
    await settle();
    expect(started).toEqual(['scanSpacing', 'clearance', 'clearance']);
    ends[1]?.();
    await settle();
    expect(started).toEqual(['scanSpacing', 'clearance', 'clearance', 'scanSpacing']);
    for (let i = 2; i < 5; i++) {
      ends[i]?.();
      await settle();
    }
    await service.idle();
    expect(started).toHaveLength(5);
  });

  it('starts slow kinds only after a pause without anything new', async () => {
    const started: string[] = [];
    const run = (task: MeasureTask) => {
      started.push(task.kind === 'measure' ? task.job.kind : task.kind);
      return Promise.resolve({ ok: true, result: resultOf(1) });
    };
    const waiting = new Set<() => void>();
    const afterPause = (end: () => void) => {
      waiting.add(end);
      return () => waiting.delete(end);
    };
    const pool = { threads: 2, run: run as MeasurePool['run'] };
    const service = await createMeasureService({ pool, scanFile, meshFile, afterPause });
    service.request({ kind: 'scanSpacing', scan: 's', tubes: [], reach: 0.06 });
    service.request(job(1));
    await settle();
    expect(started).toEqual(['clearance']);
    service.request(job(2));
    await settle();
    // Each new job begins the pause anew, and only one is ever waited for.
    expect(waiting.size).toBe(1);
    expect(started).toEqual(['clearance', 'clearance']);
    for (const end of waiting) end();
    await service.idle();
    expect(started).toEqual(['clearance', 'clearance', 'scanSpacing']);
  });

  it('starts what a person looks at before what fills in the checks', async () => {
    const started: string[] = [];
    const run = (task: MeasureTask) => {
      started.push(task.kind === 'measure' ? task.job.kind : task.kind);
      return Promise.resolve({ ok: false, problem: { code: 'x', message: 'not measured here' } });
    };
    const pool = { threads: 1, run: run as MeasurePool['run'] };
    const service = await createMeasureService({ pool, scanFile, meshFile });
    service.request(job(1));
    for (const kind of ['thinnestWall', 'innerGap', 'meshReport'] as const) service.request({ kind, mesh: 'm' });
    service.request({ kind: 'poseSearch', mesh: 'm', overhangAngle: 0.8, count: 6, tubes: [] });
    service.request(job(2));
    await service.idle();
    expect(started).toEqual(['clearance', 'clearance', 'meshReport', 'poseSearch', 'thinnestWall', 'innerGap']);
  });

  it('drops superseded jobs that have not started, and lets running ones end', async () => {
    const hand = handPool();
    const service = await createMeasureService({ pool: hand.pool, scanFile, meshFile });
    for (const n of [1, 2, 3]) service.request(job(n));
    expect(service.keepOnly([jobKey(job(3))])).toBe(1);
    expect(service.lookup(jobKey(job(2)))).toBeUndefined();
    hand.end(0);
    await settle();
    expect(hand.started.map((t) => t.job.nodes[0])).toEqual([1, 3]);
    hand.end(1);
    await service.idle();
    expect(service.lookup(jobKey(job(1)))?.state).toBe('done');
    expect(service.request(job(2))).toEqual({ state: 'waiting' });
    hand.end(2);
    await service.idle();
  });

  it('keeps a problem and does not try again until told to', async () => {
    const hand = handPool();
    const service = await createMeasureService({ pool: hand.pool, scanFile, meshFile });
    service.request(job(1));
    const problem = { code: 'no-radius', message: 'Expected a bend radius.' };
    hand.ends[0]?.({ ok: false, problem });
    await service.idle();
    expect(service.request(job(1))).toEqual({ state: 'failed', problem });
    expect(hand.started).toHaveLength(1);
    service.forgetFailures();
    expect(service.request(job(1))).toEqual({ state: 'waiting' });
    hand.end(1);
    await service.idle();
    expect(service.request(job(1)).state).toBe('done');
  });

  it('tries a job whose worker died once more, then gives up with a problem', async () => {
    const hand = handPool();
    const service = await createMeasureService({ pool: hand.pool, scanFile, meshFile });
    service.request(job(1));
    hand.fails[0]?.(new Error('thread gone'));
    await settle();
    expect(hand.started).toHaveLength(2);
    hand.fails[1]?.(new Error('thread gone'));
    await service.idle();
    expect(service.request(job(1))).toMatchObject({ state: 'failed', problem: { code: 'worker-failed' } });
    expect(hand.started).toHaveLength(2);
  });

  it('tells every listener even when one throws', async () => {
    const hand = handPool();
    const errors: unknown[] = [];
    const service = await createMeasureService({
      pool: hand.pool,
      scanFile,
      meshFile,
      onListenerError: (error) => errors.push(error),
    });
    const told: string[] = [];
    service.onResult(() => {
      throw new Error('bug');
    });
    service.onResult((_, state) => told.push(state.state));
    service.request(job(1));
    hand.end(0);
    await service.idle();
    expect(told).toEqual(['done']);
    expect(errors).toEqual([new Error('bug')]);
  });

  it('keeps at most so many results, the newest', async () => {
    const hand = handPool();
    const service = await createMeasureService({ pool: hand.pool, scanFile, meshFile, maxResults: 2 });
    for (const n of [1, 2, 3]) {
      service.request(job(n));
      hand.end(n - 1);
      await service.idle();
    }
    expect([1, 2, 3].map((n) => service.lookup(jobKey(job(n)))?.state)).toEqual([undefined, 'done', 'done']);
  });
});

/** Lines that hold no result: another shape, no kind (as an older server wrote), an unknown kind, a kind's name with another's result. */
const damaged = [
  { kind: 'clearance', result: { gap: null } },
  { result: resultOf(1) },
  { kind: 'toString', result: resultOf(1) },
  { kind: 'scanExtents', result: resultOf(1) },
].map((line) => JSON.stringify({ key: '0'.repeat(64), ...line }));

describe('cache file', () => {
  it('makes a restart warm and passes over damaged and unfinished lines', async () => {
    const cacheFile = join(folder, 'deep', 'results.jsonl');
    const first = handPool();
    const before = await createMeasureService({ pool: first.pool, scanFile, meshFile, cacheFile });
    for (const n of [1, 2]) {
      before.request(job(n));
      first.end(n - 1);
      await before.idle();
    }
    appendFileSync(cacheFile, `${damaged.join('\n')}\n{"key":"ab`);
    const second = handPool();
    const after = await createMeasureService({ pool: second.pool, scanFile, meshFile, cacheFile });
    expect(after.counts()).toMatchObject({ kept: 2, damaged: damaged.length + 1 });
    expect(after.request(job(2))).toEqual({ state: 'done', result: resultOf(2) });
    expect(second.started).toHaveLength(0);
    after.request(job(3));
    second.end(0);
    await after.idle();
    const third = await createMeasureService({ pool: handPool().pool, scanFile, meshFile, cacheFile });
    expect(third.lookup(jobKey(job(3)))).toEqual({ state: 'done', result: resultOf(3) });
  });

  it('is cut down when it has grown to twice its use', async () => {
    const cacheFile = join(folder, 'long.jsonl');
    const lines = Array.from({ length: 25 }, (_, n) =>
      JSON.stringify({ key: jobKey(job(n)), kind: 'clearance', result: resultOf(n) }),
    );
    writeFileSync(cacheFile, `${lines.join('\n')}\n`);
    const service = await createMeasureService({
      pool: handPool().pool,
      scanFile,
      meshFile,
      cacheFile,
      maxResults: 10,
    });
    await service.idle();
    expect(readFileSync(cacheFile, 'utf8').trim().split('\n')).toEqual(lines.slice(15));
  });
});
