import { expect, it } from 'vitest';
import type { MeasureJob } from '../../shared/geometry/measurement.ts';
import { jobKey } from '../../shared/geometry/measurement.ts';
import type { MeasurePool } from '../measure/pool.ts';
import { createMeasureService } from '../measure/service.ts';
import { MeasurementDesk } from './measurements.ts';

const job = (mesh: string): MeasureJob => ({ kind: 'meshReport', mesh });

/** A real service whose one worker answers when the test says so. */
async function bench() {
  const waiting: ((outcome: object) => void)[] = [];
  const run = (() => new Promise((resolve) => waiting.push(resolve))) as unknown as MeasurePool['run'];
  const service = await createMeasureService({ pool: { threads: 1, run }, scanFile: String, meshFile: String });
  const refuse = (): void => waiting.shift()?.({ ok: false, problem: { code: 'x', message: 'not read' } });
  return { service, desk: new MeasurementDesk(service), refuse };
}

it('does not drop what a person asked for when the rooms want other things', async () => {
  const { service, desk, refuse } = await bench();
  const room = desk.open(() => undefined);
  // The worker is busy with the first: the others wait.
  for (const mesh of ['busy', 'dropped']) room.measure(job(mesh));
  expect(desk.ask(job('asked'))).toEqual({ state: 'waiting' });
  room.settle(() => [jobKey(job('busy'))]);
  expect(service.lookup(jobKey(job('dropped')))).toBeUndefined();
  expect(service.lookup(jobKey(job('asked')))).toEqual({ state: 'waiting' });
  refuse();
  await new Promise((resolve) => setImmediate(resolve));
  refuse();
  await service.idle();
  expect(desk.ask(job('asked'))).toEqual({ state: 'failed', problem: { code: 'x', message: 'not read' } });
});

it('lets go of what was asked for once it has been answered', async () => {
  const { service, desk, refuse } = await bench();
  const room = desk.open(() => undefined);
  desk.ask(job('asked'));
  refuse();
  await service.idle();
  service.forgetFailures();
  room.measure(job('busy'));
  room.measure(job('asked'));
  room.settle(() => [jobKey(job('busy'))]);
  expect(service.lookup(jobKey(job('asked')))).toBeUndefined();
  refuse();
  await service.idle();
});
