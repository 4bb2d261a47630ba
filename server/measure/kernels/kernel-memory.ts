import type { KernelFault } from './clearance.ts';
import { helpersHere, shareOut } from './crew.ts';
import { type KernelExports, startKernel } from './kernel-instance.ts';
import type { Shares } from './shares.ts';

/** Thrown by `allocate` and caught where a fault is made of it: the 4 GiB a kernel can address are used up. */
export class KernelFull extends Error {}

/** A kernel with a memory of its own, which grows as needed and up to 4 GiB. Threads that help work in the same memory. */
export class KernelMemory {
  readonly run: KernelExports;
  readonly #module: WebAssembly.Module;
  readonly #memory = new WebAssembly.Memory({ initial: 4, maximum: 65_535, shared: true });
  /** Where each helper works. */
  readonly #rooms: readonly number[];

  constructor(module: WebAssembly.Module, helpers = helpersHere()) {
    this.#module = module;
    this.run = startKernel(module, this.#memory);
    const room = this.run.scratchRoom();
    this.run.takeScratch(this.allocate(room));
    this.#rooms = Array.from({ length: helpers }, () => this.allocate(room));
  }

  /** Asks a question in parts, on this thread and those that help it; ends when all of it is answered. Gives how many helped. */
  share(shares: Shares): number {
    return shareOut({ module: this.#module, memory: this.#memory, run: this.run, rooms: this.#rooms }, shares);
  }

  /** Address of so many bytes, aligned to 128; they stay until `release` of a mark before them. */
  allocate(bytes: number): number {
    const at = this.allocateIfRoom(bytes);
    if (at === undefined) throw new KernelFull(`no ${bytes} bytes left`);
    return at;
  }

  /** The same, undefined where there are not as many left. */
  allocateIfRoom(bytes: number): number | undefined {
    return this.run.allocate(bytes) >>> 0 || undefined;
  }

  mark(): number {
    return this.run.mark() >>> 0;
  }

  release(to: number): void {
    this.run.release(to);
  }

  /** Views hold until the next allocation: growing moves the memory. */
  singles(at: number, count: number): Float32Array {
    return new Float32Array(this.#memory.buffer, at, count);
  }

  whole(at: number, count: number): Uint32Array {
    return new Uint32Array(this.#memory.buffer, at, count);
  }
}

/** The fault of a memory that is used up; throws on what is anything else. */
export function fullFault(error: unknown): KernelFault {
  if (!(error instanceof KernelFull)) throw error;
  return { kind: 'too-large', message: `Expected a scan and surfaces that fit in 4 GiB together: ${error.message}.` };
}
