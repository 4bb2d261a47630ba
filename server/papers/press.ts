import { Piscina } from 'piscina';
import type { PrintTask } from './workers/print.ts';

/** Prints papers beside the main thread. */
export interface Press {
  /** Rejects with {@link PressBusy} while too many wait. */
  print(task: PrintTask): Promise<Uint8Array>;
  /** Ends the thread; what waits is given up. */
  destroy(): Promise<void>;
}

/** Papers that may wait for the press (own: a minute of printing). */
const WAITING = 20;
/** A press nobody used for so long lets its thread go, ms. */
const IDLE_MS = 60_000;

/** Too many papers wait already. */
export class PressBusy extends Error {
  constructor() {
    super(`more than ${WAITING} papers wait to be printed`);
    this.name = 'PressBusy';
  }
}

/** From source the thread is loaded by from-source.mjs; the built output keeps the same folders below `server`. */
function workerUrl(from: string): string {
  const server = from.slice(0, from.lastIndexOf('/server/') + '/server/'.length);
  return `${server}papers/workers/${from.endsWith('.ts') ? 'from-source.mjs' : 'print.js'}`;
}

/** Opens the press: one thread, started with the first paper. */
export function openPress(): Press {
  const pool = new Piscina<PrintTask, Uint8Array>({
    filename: workerUrl(import.meta.url),
    minThreads: 0,
    maxThreads: 1,
    idleTimeout: IDLE_MS,
  });
  return {
    print: (task) => (pool.queueSize >= WAITING ? Promise.reject(new PressBusy()) : pool.run(task)),
    destroy: () => pool.destroy(),
  };
}
