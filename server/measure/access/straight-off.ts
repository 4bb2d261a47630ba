import type { StraightOffJob, StraightOffResult } from '../../../shared/geometry/accessMeasurement.ts';
import { freeTravel } from '../../../shared/geometry/mesh/freeTravel.ts';
import type { Around } from './tool-reach.ts';

/** How far the header, all of it together, comes straight off before it meets the first scanned point. */
export function straightOff(
  { body, grids }: Around,
  { way, reach }: Pick<StraightOffJob, 'way' | 'reach'>,
): StraightOffResult {
  const tree = body.tree();
  let found: StraightOffResult = { free: reach, point: null, onPart: null };
  for (const grid of grids) {
    const bump = freeTravel(tree, grid, { way, reach: found.free });
    if (bump && (bump.travel < found.free || found.point === null))
      found = { free: bump.travel, point: bump.point, onPart: bump.onPart };
  }
  return found;
}
