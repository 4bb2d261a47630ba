import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Piscina } from 'piscina';
import { afterAll, describe, expect, it } from 'vitest';
import { massProperties } from '../../../../shared/geometry/mesh/massProperties.ts';
import { written } from '../upload.fixture.ts';
import { asciiPly } from './mesh-file.fixture.ts';
import type { MeshOutcome } from './mesh-file.ts';
import type { StepTask } from './step-worker.ts';
import readInWorker from './step-worker.ts';

const packages = createRequire(import.meta.url);
const pool = new Piscina<StepTask, MeshOutcome>({
  filename: new URL('./step-worker.ts', import.meta.url).href,
  maxThreads: 1,
  execArgv: ['--import', pathToFileURL(packages.resolve('tsx')).href],
});
afterAll(() => pool.destroy());

const samples = join(dirname(packages.resolve('occt-import-js/package.json')), 'test', 'testfiles');
const options = { unitFactor: 0.001 };
const cube = written(readFileSync(join(samples, 'cube-units', 'cube-mm.step')));

describe('a worker for files that cannot be stopped', () => {
  it('reads STEP and anything else, and says what is wrong', async () => {
    const outcome = await pool.run({ file: cube, options });
    if (!outcome.ok) throw new Error(outcome.problem.message);
    expect(massProperties(outcome.read.mesh).volume).toBeCloseTo(1, 9);
    expect(await pool.run({ file: written(asciiPly()), options })).toMatchObject({ ok: true });
    expect(await pool.run({ file: written('nothing'), options })).toMatchObject({
      problem: { code: 'unknown-format' },
    });
  });

  it('can be killed while it reads, and the next file is read as if nothing had been', async () => {
    const large = written(readFileSync(join(samples, 'cax-if', 'as1_pe_203.stp')));
    const stop = new AbortController();
    const reading = pool.run(
      { file: large, options: { ...options, tolerance: { chord: 1e-7, turn: 0.01 } } },
      { signal: stop.signal },
    );
    stop.abort();
    await expect(reading).rejects.toThrow(/abort/i);
    expect(await pool.run({ file: cube, options })).toMatchObject({ ok: true });
  });

  it('does not run where nothing could stop it', () => {
    // Vitest runs test files in processes of their own here: this is a main thread.
    expect(() => readInWorker({ file: cube, options })).toThrow(/worker thread only/);
  });
});
