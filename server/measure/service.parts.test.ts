import { describe, expect, it } from 'vitest';
import type { MeasurementTask, MeasureTask } from './jobs.ts';
import type { MeasurePool } from './pool.ts';
import { createMeasureService } from './service.ts';

const job = { kind: 'thinnestWall', mesh: 'part-mm' } as const;
const wall = { smallest: 0.002, p1: 0.002, at: null, limit: 0.01 };
const damaged = { ok: false, problem: { code: 'bad-mesh-file', message: 'damaged' } } as const;

/** A service whose worker answers in turn, and whose parts can be read again, or not. */
async function serviceWith(answers: readonly unknown[], remakeMesh?: (name: string) => Promise<boolean>) {
  const tasks: MeasurementTask[] = [];
  const run = async (task: MeasureTask): Promise<unknown> => {
    if (task.kind !== 'measure') throw new Error('only measurements are expected here');
    tasks.push(task);
    return answers[tasks.length - 1];
  };
  const service = await createMeasureService({
    pool: { threads: 2, run: run as MeasurePool['run'] },
    scanFile: (name) => `grids/${name}`,
    meshFile: (name) => `meshes/${name}`,
    ...(remakeMesh && { remakeMesh }),
  });
  service.request(job);
  await service.idle();
  return { state: service.request(job), tasks };
}

describe('a measurement on a part', () => {
  it('gets the mesh file it names, and no scan', async () => {
    const { state, tasks } = await serviceWith([{ ok: true, result: wall }]);
    expect(state).toEqual({ state: 'done', result: wall });
    expect(tasks).toEqual([{ kind: 'measure', job, scanFiles: {}, meshFiles: { 'part-mm': 'meshes/part-mm' } }]);
  });

  it('is made again when its mesh file was damaged and the part could be read again', async () => {
    const asked: string[] = [];
    const remake = async (name: string) => asked.push(name) > 0;
    const { state, tasks } = await serviceWith([damaged, { ok: true, result: wall }], remake);
    expect(state).toEqual({ state: 'done', result: wall });
    expect(asked).toEqual(['part-mm']);
    expect(tasks).toHaveLength(2);
  });

  it('fails with the problem when the part cannot be read again, or the new file is no better', async () => {
    const failed = { state: 'failed', problem: damaged.problem };
    const never = await serviceWith([damaged], async () => false);
    expect(never.state).toEqual(failed);
    expect(never.tasks).toHaveLength(1);
    const again = await serviceWith([damaged, damaged], async () => true);
    expect(again.state).toEqual(failed);
    expect(again.tasks).toHaveLength(2);
    expect((await serviceWith([damaged])).state).toEqual(failed);
  });

  it('does not read the part again for any other problem', async () => {
    const other = { ok: false, problem: { code: 'bad-voxel', message: 'too small' } };
    const { state, tasks } = await serviceWith([other], () => Promise.reject(new Error('not asked for')));
    expect(state).toEqual({ state: 'failed', problem: other.problem });
    expect(tasks).toHaveLength(1);
  });
});
