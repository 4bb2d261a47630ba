import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import { rootFile } from './root-file.ts';

/** Starts a worker thread by its path from the top of the tree: from source (.ts, by way of tsx) or as built (.js). */
export function openThread(pathWithoutExtension: string, from: string, data: unknown): Worker {
  if (!from.endsWith('.ts')) return new Worker(rootFile(`${pathWithoutExtension}.js`, from), { workerData: data });
  const file = rootFile(`${pathWithoutExtension}.ts`, from);
  // tsx registers itself on the main thread only (so `--import tsx` does nothing here): the thread has to ask for it.
  const tsx = new URL('./esm/api/index.mjs', pathToFileURL(createRequire(import.meta.url).resolve('tsx')));
  const source = `import { register } from '${tsx.href}'; register(); await import('${file.href}');`;
  return new Worker(new URL(`data:text/javascript,${encodeURIComponent(source)}`), { workerData: data });
}
