/** How a LAS file of a test is written. */
export interface LasShape {
  readonly minor?: number;
  readonly format?: number;
  /** Bytes beyond the least of the format. */
  readonly extra?: number;
  readonly scale?: number;
  readonly shift?: readonly [number, number, number];
  /** What the header says instead of the real number of points. */
  readonly claim?: number;
}

const LEAST = [20, 28, 26, 34, 57, 63, 30, 36, 38, 59, 67];
const HEADERS = [227, 227, 227, 235, 375];

/** A plain LAS file of xyz triples in file units. */
export function lasFile(points: readonly number[], shape: LasShape = {}): Buffer {
  const { minor = 2, format = 0, extra = 0, scale = 0.0001, shift = [0, 0, 0] } = shape;
  const count = points.length / 3;
  const stride = (LEAST[format] ?? 0) + extra;
  const size = HEADERS[minor] ?? 227;
  const file = Buffer.alloc(size + stride * count);
  writeLasHeader(file, { minor, format, stride, scale, shift, size, offset: size, count: shape.claim ?? count });
  for (let i = 0; i < count; i++)
    for (let k = 0; k < 3; k++)
      file.writeInt32LE(Math.round(((points[3 * i + k] ?? 0) - (shift[k] ?? 0)) / scale), size + stride * i + 4 * k);
  return file;
}

/** Members of a LAS header that matter. */
export interface LasHead {
  readonly minor: number;
  readonly format: number;
  readonly stride: number;
  readonly scale: number;
  readonly shift: readonly [number, number, number];
  readonly size: number;
  readonly offset: number;
  readonly count: number;
  /** The points, for the box; without them the header has none. */
  readonly points?: readonly number[];
}

/** Writes a LAS header to the start of a file. */
export function writeLasHeader(file: Buffer, head: LasHead): void {
  file.write('LASF', 'latin1');
  file.writeUInt8(1, 24);
  file.writeUInt8(head.minor, 25);
  file.writeUInt16LE(head.size, 94);
  file.writeUInt32LE(head.offset, 96);
  file.writeUInt8(head.format, 104);
  file.writeUInt16LE(head.stride, 105);
  // The newest formats leave the old count at 0.
  file.writeUInt32LE(head.minor >= 4 && (head.format & 0x3f) >= 6 ? 0 : head.count, 107);
  for (let k = 0; k < 3; k++) {
    file.writeDoubleLE(head.scale, 131 + 8 * k);
    file.writeDoubleLE(head.shift[k] ?? 0, 155 + 8 * k);
  }
  for (let k = 0; k < 3 && head.points; k++) {
    const along = head.points.filter((_, i) => i % 3 === k);
    file.writeDoubleLE(
      along.reduce((a, b) => Math.max(a, b), -Infinity),
      179 + 16 * k,
    );
    file.writeDoubleLE(
      along.reduce((a, b) => Math.min(a, b), Infinity),
      187 + 16 * k,
    );
  }
  if (head.minor >= 4) file.writeBigUInt64LE(BigInt(head.count), 247);
}
