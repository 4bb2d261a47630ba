import { availableParallelism } from 'node:os';
import { MessageChannel, type MessagePort, Worker } from 'node:worker_threads';
import { workerUrl } from '../worker-url.ts';
import type { KernelExports } from './kernel-instance.ts';
import { closeShares, newBoard, type SharedEnd, type Shares, takeShares } from './shares.ts';

/** Most threads that help another (own: beyond four at once a memory has no more to give). */
export const MOST_HELPERS = 3;

/** What a helper starts with: the bell it sleeps at and where what is asked stands. */
export interface HelperStart {
  readonly module: WebAssembly.Module;
  readonly bell: Int32Array<SharedArrayBuffer>;
  readonly port: MessagePort;
}

/** What a helper is called for: a question, the memory it is about, and the helper's own room there. */
export interface SharedTask {
  readonly memory: WebAssembly.Memory;
  readonly scratch: number;
  readonly board: Int32Array<SharedArrayBuffer>;
  readonly shares: Shares;
}

/** A kernel that wants help: its memory, its exports, and room in it for each helper. */
export interface Helped {
  readonly module: WebAssembly.Module;
  readonly memory: WebAssembly.Memory;
  readonly run: KernelExports;
  readonly rooms: readonly number[];
}

interface Crew {
  readonly module: WebAssembly.Module;
  readonly bell: Int32Array<SharedArrayBuffer>;
  readonly ports: readonly MessagePort[];
}

/** Of this thread; started by the first question that is worth it. */
let crew: Crew | undefined;

/** Threads that can help one that measures: those the machine has besides. */
export const helpersHere = (): number => Math.min(MOST_HELPERS, availableParallelism() - 1);

/**
 * Asks a question in parts, on this thread and those that help it. Ends when all of it is answered: where no thread can help, or none has
 * started yet, this one does it alone, and answers the same. Gives how many threads helped.
 */
export function shareOut({ module, memory, run, rooms }: Helped, shares: Shares): number {
  const board = newBoard();
  if (rooms.length > 0 && shares.total > shares.part) {
    const { bell, ports } = crewOf(module, rooms.length);
    for (const [i, port] of ports.entries()) {
      const scratch = rooms[i];
      if (scratch !== undefined) port.postMessage({ memory, scratch, board, shares } satisfies SharedTask);
    }
    Atomics.add(bell, 0, 1);
    Atomics.notify(bell, 0);
  }
  const { joined, whole } = answered(board, shares, run);
  if (!whole) takeShares(newBoard(), shares, run);
  return joined;
}

function answered(board: Int32Array<SharedArrayBuffer>, shares: Shares, run: KernelExports): SharedEnd {
  let end: SharedEnd = { joined: 0, whole: false };
  try {
    takeShares(board, shares, run);
  } finally {
    // Nobody may write on in a memory whose owner has gone on, whatever became of its own part.
    end = closeShares(board);
  }
  return end;
}

function crewOf(module: WebAssembly.Module, count: number): Crew {
  if (crew?.module === module && crew.ports.length >= count) return crew;
  const bell = new Int32Array(new SharedArrayBuffer(4));
  const ports = Array.from({ length: count }, () => {
    const { port1, port2 } = new MessageChannel();
    const start: HelperStart = { module, bell, port: port2 };
    const url = new URL(workerUrl(import.meta.url, 'crew-member'));
    const worker = new Worker(url, { workerData: start, transferList: [port2] });
    // One that does not start or dies is not missed: its parts are taken by others. None keeps a process alive.
    worker.on('error', () => {});
    worker.unref();
    port1.unref();
    return port1;
  });
  crew = { module, bell, ports };
  return crew;
}
