import { isMainThread } from 'node:worker_threads';
import type { MeshOutcome, MeshReadOptions } from './mesh-file.ts';
import { readAnyMesh } from './mesh-file.ts';

/** What the worker is asked: a file and how to read it. */
export interface StepTask {
  readonly file: string;
  readonly options: MeshReadOptions;
}

/**
 * A worker's one entry for files whose reading cannot be stopped from within (STEP). Whoever runs it sets the time and kills the thread;
 * nothing of it is shared, so nothing is left half done.
 */
export default function readInWorker({ file, options }: StepTask): Promise<MeshOutcome> {
  if (isMainThread) throw new Error('runs in a worker thread only: nothing could stop it here');
  return readAnyMesh(file, options);
}
