import { writeFileSync } from 'node:fs';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { type Motion, movedBy } from '../../../shared/geometry/motion.ts';

/** Bytes of a point: three doubles, so that nothing is lost wherever the scan lies. */
const POINT = 24;

/** Writes the points of a grid where a motion puts them, as a binary PLY file in millimetres. */
export function writeMovedScan(file: string, { positions, origin, count }: PointGrid, motion: Motion): void {
  const head = Buffer.from(
    ['ply', 'format binary_little_endian 1.0', `element vertex ${count}`]
      .concat(
        ['x', 'y', 'z'].map((axis) => `property double ${axis}`),
        'end_header\n',
      )
      .join('\n'),
    'latin1',
  );
  const bytes = Buffer.alloc(head.length + POINT * count);
  head.copy(bytes);
  for (let i = 0, at = head.length; i < count; i++, at += POINT) {
    const o = 3 * i;
    const [x, y, z] = movedBy(motion, [
      (positions[o] ?? 0) + origin[0],
      (positions[o + 1] ?? 0) + origin[1],
      (positions[o + 2] ?? 0) + origin[2],
    ]);
    bytes.writeDoubleLE(1000 * x, at);
    bytes.writeDoubleLE(1000 * y, at + 8);
    bytes.writeDoubleLE(1000 * z, at + 16);
  }
  writeFileSync(file, bytes);
}
