import { closeSync, openSync, writeSync } from 'node:fs';
import type { PointGrid } from '../../../shared/geometry/cloud.ts';
import { type Motion, movedBy } from '../../../shared/geometry/motion.ts';

/** Bytes of a point: three doubles, so that nothing is lost wherever the scan lies. */
const POINT = 24;
/** Points written at once: a large scan is not held twice. */
const PART = 1 << 16;

/** Writes the points of a grid where a motion puts them, as a binary PLY file in millimetres. */
export function writeMovedScan(file: string, grid: PointGrid, motion: Motion): void {
  const head = ['ply', 'format binary_little_endian 1.0', `element vertex ${grid.count}`]
    .concat(
      ['x', 'y', 'z'].map((axis) => `property double ${axis}`),
      'end_header\n',
    )
    .join('\n');
  const to = openSync(file, 'w');
  try {
    writeSync(to, head, null, 'latin1');
    for (let from = 0; from < grid.count; from += PART)
      writeSync(to, movedPart(grid, motion, from, Math.min(from + PART, grid.count)));
  } finally {
    closeSync(to);
  }
}

function movedPart({ positions, origin }: PointGrid, motion: Motion, from: number, to: number): Buffer {
  const bytes = Buffer.alloc(POINT * (to - from));
  for (let i = from, at = 0; i < to; i++, at += POINT) {
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
  return bytes;
}
