import { existsSync, readFileSync } from 'node:fs';
import { meshFault } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { Coordinates, KernelFault, ScanKernel } from './clearance.ts';
import { finitePoints, raggedPoints } from './clearance.ts';
import { helpersHere } from './crew.ts';
import { fullFault, KernelMemory } from './kernel-memory.ts';
import { plainKernel } from './plain-kernel.ts';
import { residentPoints } from './resident-points.ts';
import { SimdSurface } from './simd-surface.ts';

/** Where `npm run build` puts the compiled kernel: in the built tree, which the source tree has as its `dist`. */
const COMPILED = ['server/measure/kernels/clearance.wasm', 'dist/server/measure/kernels/clearance.wasm'];

/** Gives the compiled kernel, or undefined where there is none or this machine cannot run it. */
export type KernelSource = () => WebAssembly.Module | undefined;

let compiled: { readonly module: WebAssembly.Module | undefined } | undefined;

/** The kernel that was built, looked for upwards from this module, which stands higher when bundled. Read once. */
export const builtKernel: KernelSource = () => {
  compiled ??= { module: readKernel(import.meta.url) };
  return compiled.module;
};

function readKernel(from: string): WebAssembly.Module | undefined {
  for (let at = new URL('./', from); ; at = new URL('../', at)) {
    const file = COMPILED.map((path) => new URL(path, at)).find((one) => existsSync(one));
    if (file) return vectorModule(readFileSync(file));
    if (new URL('../', at).href === at.href) return undefined;
  }
}

/** A machine without vector instructions, or without memory that threads share, refuses the module as a whole. */
export function vectorModule(bytes: Uint8Array): WebAssembly.Module | undefined {
  const code = Uint8Array.from(bytes);
  const able = typeof WebAssembly === 'object' && typeof SharedArrayBuffer === 'function';
  return able && WebAssembly.validate(code) ? new WebAssembly.Module(code) : undefined;
}

/**
 * Takes in a scan (xyz in metres; not to be written to while it is held) to hold surfaces against. Ordering five million points takes about
 * a second, once. `helpers` is how many threads may help where a question is long.
 */
export function openScan(
  points: Coordinates,
  source: KernelSource = builtKernel,
  helpers = helpersHere(),
): ScanKernel | KernelFault {
  const module = source();
  if (!module) return plainKernel(points);
  return raggedPoints(points) ?? simdKernel(points, module, helpers);
}

function simdKernel(points: Coordinates, module: WebAssembly.Module, helpers: number): ScanKernel | KernelFault {
  const finite = finitePoints(points);
  const count = points.length / 3;
  try {
    const memory = new KernelMemory(module, helpers);
    const resident = residentPoints(memory, points, finite);
    const bottom = memory.mark();
    return {
      kind: 'simd',
      count,
      notFinite: count - finite.length,
      surface(mesh) {
        const fault = meshFault(mesh);
        if (fault) return fault;
        const before = memory.mark();
        try {
          return new SimdSurface({ memory, points, resident }, mesh);
        } catch (error) {
          memory.release(before);
          return fullFault(error);
        }
      },
      clear: () => memory.release(bottom),
    };
  } catch (error) {
    return fullFault(error);
  }
}
