import { describe, expect, it } from 'vitest';
import { writeBinaryPly } from '../ply.ts';
import { e57File } from './e57.fixture.ts';
import { asciiStl, boxTriangles, inFile, MM, POINTS, problemOf, read } from './upload.fixture.ts';

/** Points of a scanner, millimetres; it missed the last one. */
const [N, INF] = [Number.NaN, Number.POSITIVE_INFINITY];
const MISSED = [N, N, N];

const rows = (points: readonly number[], separator = ' ', word = String): string =>
  Array.from({ length: points.length / 3 }, (_, i) =>
    points
      .slice(3 * i, 3 * i + 3)
      .map((x) => word(x))
      .join(separator),
  ).join('\n');
const header = (format: string, count: number, type: string): string =>
  `ply\nformat ${format} 1.0\nelement vertex ${count}\n${['x', 'y', 'z'].map((axis) => `property ${type} ${axis}\n`).join('')}end_header\n`;
const asciiPly = (points: readonly number[]): string =>
  `${header('ascii', points.length / 3, 'float')}${rows(points)}\n`;
function bigPly(points: readonly number[]): Buffer {
  const body = Buffer.alloc(8 * points.length);
  for (const [i, x] of points.entries()) body.writeDoubleBE(x, 8 * i);
  return Buffer.concat([Buffer.from(header('binary_big_endian', points.length / 3, 'double')), body]);
}
const e57 = (points: readonly number[]): Buffer => e57File([{ points: points.map((x) => x / 1000), as: 'single' }]);

const formats: readonly (readonly [string, (points: readonly number[]) => string | Buffer])[] = [
  ['PLY, binary', (points) => writeBinaryPly(Float32Array.from(points))],
  ['PLY, binary, most significant byte first', bigPly],
  ['PLY, text', asciiPly],
  ['rows', (points) => rows(points)],
  ['rows of CSV', (points) => `x,y,z\n${rows(points, ',')}`],
  ['PTS', (points) => `${points.length / 3}\n${rows(points)}\n`],
  ['E57', e57],
];

describe.each(formats)('points without a place: %s', (_, file) => {
  const unit = file === e57 ? { unitFactor: 1 } : MM;
  it('are left out and counted, wherever they stand', () => {
    const scan = read(file([...MISSED, ...POINTS.slice(0, 6), 7, N, 7, ...POINTS.slice(6), N, 1, 2]), unit);
    expect(scan).toMatchObject({ count: 4, unplaced: 3 });
    expect(scan.points).toHaveLength(12);
    expect(inFile(scan).map((x) => x + 0)).toEqual(POINTS);
    expect(scan.bounds.greatest.map((x) => Math.round(1e5 * x))).toEqual([10050, 20025, 30000]);
  });

  it('are none in a whole scan', () => {
    expect(read(file(POINTS), unit)).toMatchObject({ count: 4, unplaced: 0 });
  });

  it('may be half of a scan and no more', () => {
    const half = [...POINTS, ...MISSED, ...MISSED, ...MISSED, ...MISSED];
    expect(read(file(half), unit)).toMatchObject({ count: 4, unplaced: 4 });
    const problem = problemOf(file([...half, ...MISSED]), unit);
    expect(problem.code).toBe('mostly-unplaced');
    expect(problem.message).toMatch(
      /at least half of the points; 5 of 9 have none \(NaN\), the first at \w+ \d+\. A file/,
    );
    expect(problemOf(file([...MISSED, ...MISSED]), unit).message).toMatch(/2 of 2 have none/);
  });

  it('are not those with an infinite coordinate, which refuse the scan', () => {
    const problem = problemOf(file([...POINTS, ...MISSED, INF, N, 0, 0, -INF, 0]), unit);
    expect(problem.code).toBe('not-finite');
    expect(problem.message).toMatch(
      /Expected finite coordinates, or NaN .*; 2 are infinite, the first at (point 6|line \d+)\.$/,
    );
  });
});

describe('points without a place', () => {
  it.each(['nan', 'NaN', '-nan', '+NAN', 'nan(ind)', '-nan(0x8)', '1.#QNAN', '-1.#IND', '1.#QNAN00'])(
    'are written %s in rows',
    (word) => {
      expect(read(`0 0 0\n100 ${word} 0\n0 5 90\n`)).toMatchObject({ count: 2, unplaced: 1, skipped: 0 });
    },
  );

  it.each(['inf', '-Infinity', '1.#INF', '-1.#INF00', '1e999'])('are not meant by %s in rows', (word) => {
    expect(problemOf(`0 0 0\n100 ${word} 0\n0 5 90\n`).message).toMatch(/1 are infinite, the first at line 2/);
  });

  it('do not make room for a lying count line', () => {
    expect(problemOf(`4\n${rows([...POINTS.slice(0, 6), ...MISSED])}\n`).message).toMatch(/promises 4 .* has 3\./);
  });

  it('are as many as come in many blocks of memory (400,000 rows, every fifth missed)', () => {
    const scan = read(
      Array.from({ length: 400_000 }, (_, i) => (i % 5 ? `${i % 999} ${i % 7} 3` : 'nan nan nan')).join('\n'),
    );
    expect(scan).toMatchObject({ count: 320_000, unplaced: 80_000 });
    expect(scan.points).toHaveLength(960_000);
  });

  it('are those that an E57 file marks, by any number of which nothing is wrong', () => {
    const metres = [...POINTS, 900, 900, 900, 800, 800, 800, 1, 1, 1, 2, 2, 2, 3, 3, 3].map((x) => x / 1000);
    const scan = read(e57File([{ points: metres, invalid: [0, 0, 0, 0, 1, 2, 2, 2, 1] }]));
    expect(scan).toMatchObject({ count: 4, unplaced: 5 });
    const both = read(e57File([{ points: [...metres.slice(0, 15), N, 0, 0], invalid: [0, 0, 0, 0, 2, 0] }]));
    expect(both).toMatchObject({ count: 4, unplaced: 2 });
  });

  it('are told from infinite ones in an E57 file before it is turned', () => {
    const half = Math.SQRT1_2;
    const part = (p: readonly number[]) => ({
      points: [...POINTS.map((x) => x / 1000), ...p],
      pose: `<pose type="Structure"><rotation type="Structure"><w type="Float">${half}</w><x type="Float">${half}</x><y type="Float">0</y><z type="Float">0</z></rotation></pose>`,
    });
    expect(problemOf(e57File([part([0, INF, INF])])).message).toMatch(/1 are infinite, the first at point 5/);
    expect(read(e57File([part([0, N, 1])]))).toMatchObject({ count: 4, unplaced: 1 });
    expect(read(e57File([{ points: [0.1, 0, 0, 0.1, 1, 0, 0.1, 0, 1, N, 0, 0], spherical: true }]))).toMatchObject({
      count: 3,
      unplaced: 1,
    });
    expect(problemOf(e57File([{ points: [0.1, 0, 0, 0.1, 1, 0, INF, 0, 0], spherical: true }])).code).toBe(
      'not-finite',
    );
  });

  it('refuse a surface: it would have a hole', () => {
    const box = boxTriangles();
    box[3] = [0, 0, 0, N, 0, 0, 50, 50, 0];
    expect(problemOf(asciiStl(box)).message).toBe(
      'Expected finite coordinates; 1 are NaN or Inf, the first at triangle 4.',
    );
  });
});
