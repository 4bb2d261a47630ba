import { expect, it } from 'vitest';
import { fileSpan } from './fileSpan.ts';

/** A long thin row of points: the last is the farthest. */
const points = Array.from({ length: 20_000 }, (_, i) => [i / 10, -3 + (i % 7), 5] as const);
const SPAN = [1999.9, 6, 0];
const rows = points.map((point) => point.join(' '));

const ply = (format: string, properties: readonly string[], body: BlobPart): Blob =>
  new Blob([
    ['ply', `format ${format} 1.0`, 'comment of a test', `element vertex ${points.length}`, ...properties].join('\n'),
    '\nelement face 1\nproperty list uchar int vertex_indices\nend_header\n',
    body,
  ]);

/** Each record: a byte, then x y z as floats or doubles. */
function records(wide: boolean, little: boolean): Uint8Array<ArrayBuffer> {
  const size = wide ? 8 : 4;
  const bytes = new DataView(new ArrayBuffer(points.length * (1 + 3 * size)));
  for (const [i, point] of points.entries())
    for (const [k, value] of point.entries()) {
      const at = i * (1 + 3 * size) + 1 + k * size;
      if (wide) bytes.setFloat64(at, value, little);
      else bytes.setFloat32(at, value, little);
    }
  return new Uint8Array(bytes.buffer);
}

const named = (type: string): string[] => [
  'property uchar red',
  ...['x', 'y', 'z'].map((axis) => `property ${type} ${axis}`),
];

function stl(): Blob {
  const bytes = new DataView(new ArrayBuffer(84 + 50 * points.length));
  bytes.setUint32(80, points.length, true);
  for (const [i, point] of points.entries())
    for (let v = 0; v < 3; v++)
      for (const [k, value] of point.entries()) bytes.setFloat32(84 + 50 * i + 12 + 12 * v + 4 * k, value, true);
  return new Blob([bytes.buffer]);
}

function las(): Blob {
  const bytes = new DataView(new ArrayBuffer(375));
  for (const [i, letter] of [...'LASF'].entries()) bytes.setUint8(i, letter.charCodeAt(0));
  for (const [i, value] of [1999.9, 0, 3, -3, 5, 5].entries()) bytes.setFloat64(179 + 8 * i, value, true);
  return new Blob([bytes.buffer]);
}

it.each([
  ['binary STL', stl()],
  ['LAS', las()],
  ['PLY of floats', ply('binary_little_endian', named('float'), records(false, true))],
  ['PLY of doubles, the other way round', ply('binary_big_endian', named('double'), records(true, false))],
  ['text rows', new Blob(['# x y z\n', rows.join('\n'), '\n'])],
  ['rows as PTS has them', new Blob([`${points.length}\r\n`, rows.map((row) => `${row} -120 9 9 9`).join('\r\n')])],
  ['rows with semicolons', new Blob([rows.map((row) => row.replaceAll('.', ',').replaceAll(' ', ';')).join('\n')])],
  ['written surface', new Blob(['solid\n', rows.map((row) => `  vertex ${row}`).join('\n'), '\nendsolid\n'])],
  ['lines of an OBJ file', new Blob(['# obj\n', rows.map((row) => `v ${row}`).join('\n'), '\nf 1 2 3\n'])],
])('tells how far a file reaches: %s', async (_, file) => {
  const span = await fileSpan(file);
  expect(span?.map((length) => Number(length.toFixed(3)))).toEqual(SPAN);
});

it('looks only at rows that are surely points in a written PLY file', async () => {
  const span = await fileSpan(ply('ascii', named('float'), `${rows.map((row) => `9 ${row}`).join('\n')}\n3 0 1 2\n`));
  expect(span?.[0]).toBeGreaterThan(1000);
  expect(span?.slice(1)).toEqual([6, 0]);
});

it.each([
  ['a picture', new Blob([new Uint8Array([0xff, 0xd8, 0xff, 0, 0, 16, 0x4a])])],
  ['nothing', new Blob([])],
  ['words', new Blob(['no numbers here at all'])],
  ['rows without a number', new Blob(['NaN NaN 1\nNaN NaN 2\n'])],
  ['a zip, as 3MF is', new Blob([new Uint8Array([0x50, 0x4b, 3, 4, 0, 0])])],
  ['a PLY without places', ply('ascii', ['property float intensity'], '')],
])('says nothing of %s', async (_, file) => {
  expect(await fileSpan(file)).toBeNull();
});
