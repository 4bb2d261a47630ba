import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Piscina } from 'piscina';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { limitedReads } from './limited-reads.ts';

/** A worker that never comes back, throws or answers, as asked. */
const body = `export default (task) => {
  if (task === 'throw') throw new Error('broken');
  while (task === 'hang');
  return { ok: true, result: task };
}`;
const folder = mkdtempSync(join(tmpdir(), 'limited-'));
const filename = join(folder, 'worker.mjs');
writeFileSync(filename, body);
const pool = new Piscina<string, { ok: true; result: string }>({
  filename,
  minThreads: 2,
  maxThreads: 2,
});
beforeAll(() => Promise.all([pool.run('warm'), pool.run('warm')]));
afterAll(async () => {
  await pool.destroy();
  rmSync(folder, { recursive: true });
});

describe('a read that never ends', () => {
  it('loses its thread when its time is over; what runs beside it and what waits behind it goes on', async () => {
    const read = limitedReads((task: string, options) => pool.run(task, options), 1000);
    const [hanging, behind] = [read('hang'), read('behind')];
    expect(await pool.run('beside')).toEqual({ ok: true, result: 'beside' });
    expect(await hanging).toEqual({
      ok: false,
      problem: {
        code: 'took-too-long',
        message:
          'Expected a part file that is read within 1 s, this one was not. Export it coarser, piece by piece, or as STL.',
      },
    });
    expect(await behind).toEqual({ ok: true, result: 'behind' });
    expect(await Promise.all([pool.run('one'), pool.run('two')])).toMatchObject([{ ok: true }, { ok: true }]);
  });

  it('is told from one that breaks', async () => {
    const read = limitedReads((task: string, options) => pool.run(task, options), 1000);
    const broken = read('throw');
    await expect(broken).rejects.toThrow('broken');
    expect(await read('next')).toEqual({ ok: true, result: 'next' });
  });

  it('reads one after the other', async () => {
    const ends: (() => void)[] = [];
    const started: string[] = [];
    const read = limitedReads((task: string) => {
      started.push(task);
      return new Promise<string>((resolve) => ends.push(() => resolve(task)));
    }, 60_000);
    const both = Promise.all([read('a'), read('b')]);
    await Promise.resolve().then(() => {});
    expect(started).toEqual(['a']);
    ends[0]?.();
    await expect.poll(() => started).toEqual(['a', 'b']);
    ends[1]?.();
    expect(await both).toEqual(['a', 'b']);
  });
});
