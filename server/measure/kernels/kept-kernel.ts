import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { KernelFault, ScanKernel } from './clearance.ts';
import { isFault } from './clearance.ts';
import { openScan } from './clearance-kernel.ts';

/** A scan stays in the kernel as long as its grid is kept: taking in five million points takes a second, asking again milliseconds. */
const taken = new WeakMap<PointGrid, ScanKernel>();

/** The kernel of a grid. Whoever puts surfaces in clears it before another does. */
export function keptKernel(grid: PointGrid): ScanKernel | KernelFault {
  const kernel = taken.get(grid) ?? openScan(grid.positions);
  if (!isFault(kernel)) taken.set(grid, kernel);
  return kernel;
}
