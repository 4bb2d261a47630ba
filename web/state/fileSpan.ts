/** How far the numbers of a file reach along each axis, in its own unit. Of a large file only samples are looked at: it may reach farther. */
export type FileSpan = readonly [number, number, number];

/** Stretches that are looked at, and bytes of each: some hundred kilobytes of any file. */
const [PLACES, STRETCH] = [24, 16 * 1024];
/** A header of a PLY file is shorter. */
const MOST_HEADER = 16 * 1024;
const LAS_BOX = 179;

/** Looks into a file before it is sent; null when it is of a kind that says its unit, or none that is known here. */
export async function fileSpan(file: Blob): Promise<FileSpan | null> {
  const head = new Uint8Array(await file.slice(0, MOST_HEADER).arrayBuffer());
  const start = new TextDecoder('latin1').decode(head);
  if (start.startsWith('LASF')) return lasSpan(head);
  const ply = start.startsWith('ply') ? plyLayout(start) : undefined;
  if (ply === null) return null;
  const box = new Box();
  if (ply) await ply.into(box, file);
  else if (isBinaryStl(head, file.size)) await stlInto(box, file);
  else if (isText(start)) await rowsInto(box, file, /^\s*(?:vertex|v)\s/m.test(start));
  return box.span;
}

class Box {
  private readonly least = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  private readonly greatest = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];

  add(...point: readonly number[]): void {
    if (!point.every(Number.isFinite)) return;
    for (const [k, value] of point.entries()) {
      this.least[k] = Math.min(this.least[k] ?? value, value);
      this.greatest[k] = Math.max(this.greatest[k] ?? value, value);
    }
  }

  get span(): FileSpan | null {
    const [x = 0, y = 0, z = 0] = this.greatest.map((most, k) => most - (this.least[k] ?? 0));
    return [x, y, z].every(Number.isFinite) ? [x, y, z] : null;
  }
}

/** The box in the header of a LAS or LAZ file: greatest and least of x, then y, then z. */
function lasSpan(head: Uint8Array): FileSpan | null {
  if (head.length < LAS_BOX + 48) return null;
  const view = new DataView(head.buffer, head.byteOffset);
  const along = (k: number): number =>
    view.getFloat64(LAS_BOX + 16 * k, true) - view.getFloat64(LAS_BOX + 16 * k + 8, true);
  const span = [along(0), along(1), along(2)] as const;
  return span.every((length) => Number.isFinite(length) && length >= 0) ? span : null;
}

interface Records {
  /** Where the first record lies, and bytes of each. */
  readonly at: number;
  readonly stride: number;
  readonly count: number;
}

/** Records from all over a file. */
async function eachRecord(file: Blob, { at, stride, count }: Records, take: (record: DataView) => void): Promise<void> {
  const together = Math.max(1, Math.floor(STRETCH / stride));
  for (const first of places(count, together)) {
    const from = at + first * stride;
    const bytes = await file.slice(from, from + together * stride).arrayBuffer();
    for (let o = 0; o + stride <= bytes.byteLength && first + o / stride < count; o += stride)
      take(new DataView(bytes, o, stride));
  }
}

/** Where stretches of so many begin, the first and the last among them. */
function places(count: number, together: number): readonly number[] {
  const last = Math.max(0, count - together);
  if (last === 0) return [0];
  return Array.from({ length: PLACES }, (_, i) => Math.floor((last * i) / (PLACES - 1)));
}

const isBinaryStl = (head: Uint8Array, size: number): boolean =>
  head.length >= 84 && size === 84 + 50 * new DataView(head.buffer, head.byteOffset).getUint32(80, true);

async function stlInto(box: Box, file: Blob): Promise<void> {
  await eachRecord(file, { at: 84, stride: 50, count: (file.size - 84) / 50 }, (triangle) => {
    for (let at = 12; at < 48; at += 12) box.add(...[0, 4, 8].map((k) => triangle.getFloat32(at + k, true)));
  });
}

const SIZES: Readonly<Record<string, number>> = {
  ...{ char: 1, uchar: 1, int8: 1, uint8: 1, short: 2, ushort: 2, int16: 2, uint16: 2 },
  ...{ int: 4, uint: 4, int32: 4, uint32: 4, float: 4, float32: 4, double: 8, float64: 8 },
};

interface PlyLayout {
  into(box: Box, file: Blob): Promise<void>;
}

/** Where a PLY file has its points; null when only a whole reading can tell. */
function plyLayout(start: string): PlyLayout | null {
  const end = /end_header\r?\n/.exec(start);
  const format = /^format (ascii|binary_little_endian|binary_big_endian) /m.exec(start)?.[1];
  const element = /^element (\w+) (\d+)/m.exec(start);
  if (!end || format === undefined || element?.[1] !== 'vertex') return null;
  const header = start.slice(element.index + 1, end.index);
  const own = header.split(/^element /m)[0] ?? '';
  const properties = [...own.matchAll(/^property (\w+) (\w+)/gm)].map(([, type = '', name = '']) => ({ type, name }));
  const [at, count] = [end.index + end[0].length, Number(element[2])];
  const columns = ['x', 'y', 'z'].map((axis) => properties.findIndex(({ name }) => name === axis));
  if (columns.includes(-1)) return null;
  if (format === 'ascii') return { into: (box, file) => plyRowsInto(box, file, { at, count, columns }) };
  const places = columns.map((column) => {
    const before = properties.slice(0, column).map(({ type }) => SIZES[type] ?? Number.NaN);
    return { at: before.reduce((a, b) => a + b, 0), wide: SIZES[properties[column]?.type ?? ''] === 8 };
  });
  const stride = properties.reduce((sum, { type }) => sum + (SIZES[type] ?? Number.NaN), 0);
  if (!(stride > 0)) return null;
  const little = format === 'binary_little_endian';
  const number = (record: DataView, { at: o, wide }: { at: number; wide: boolean }): number =>
    wide ? record.getFloat64(o, little) : record.getFloat32(o, little);
  return {
    into: (box, file) =>
      eachRecord(file, { at, stride, count }, (record) => box.add(...places.map((place) => number(record, place)))),
  };
}

/** Rows of points are followed by rows of faces: only those that are surely points are looked at. */
async function plyRowsInto(
  box: Box,
  file: Blob,
  { at, count, columns }: { readonly at: number; readonly count: number; readonly columns: readonly number[] },
): Promise<void> {
  const rows = (await file.slice(at, at + PLACES * STRETCH).text()).split('\n').slice(0, -1);
  for (const row of rows.slice(0, count)) {
    const numbers = row.trim().split(/\s+/).map(Number);
    box.add(...columns.map((column) => numbers[column] ?? Number.NaN));
  }
}

/** Printable all through. */
const isText = (start: string): boolean => /^[\t\n\r -~\x80-\xff]+$/.test(start);

/** Rows of x y z, or lines of a written surface that begin with `vertex` or `v`. */
async function rowsInto(box: Box, file: Blob, named: boolean): Promise<void> {
  for (const from of places(file.size, STRETCH)) {
    const text = await file.slice(from, from + STRETCH).text();
    const lines = text.split(/\r?\n/);
    // Where the stretch was cut, its first and last line are parts of lines.
    const whole = lines.slice(from === 0 ? 0 : 1, from + STRETCH >= file.size ? undefined : -1);
    for (const line of whole) rowInto(box, line, named);
  }
}

function rowInto(box: Box, line: string, named: boolean): void {
  const own = named ? /^\s*(?:vertex|v)\s+(.*)/.exec(line)?.[1] : line.trim();
  if (!own || own.startsWith('#')) return;
  const columns = own.includes(';') ? own.replaceAll(',', '.').split(';') : own.split(/[\s,]+/);
  if (columns.length >= 3) box.add(...columns.slice(0, 3).map((one) => (one.trim() === '' ? Number.NaN : Number(one))));
}
