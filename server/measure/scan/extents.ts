import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import type { ScanExtentsResult } from '../../../shared/geometry/measurement.ts';
import { add, type Vec3 } from '../../../shared/geometry/vector.ts';

/** The box around a grid's points: the last of its boxes holds everything. */
export function extentsOf({ boxes, origin, count }: PointGrid): ScanExtentsResult {
  const corner = (o: number): Vec3 => [boxes[o] ?? 0, boxes[o + 1] ?? 0, boxes[o + 2] ?? 0];
  const last = Math.max(0, boxes.length - 6);
  return { least: add(corner(last), origin), greatest: add(corner(last + 3), origin), points: count };
}
