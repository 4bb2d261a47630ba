import { describe, expect, it } from 'vitest';
import { sampleBox } from '../../../shared/geometry/generate.ts';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { writeBinaryPly } from '../ply.ts';
import type { ReadCode } from './problem.ts';
import { inFile, POINTS, problemOf, read } from './upload.fixture.ts';

const plyHeader = (format: string, lines: readonly string[]) =>
  ['ply', `format ${format} 1.0`, ...lines, 'end_header', ''].join('\n');
const XYZ = ['property float x', 'property float y', 'property float z'];

function binaryPly(little: boolean): Buffer {
  const header = plyHeader(little ? 'binary_little_endian' : 'binary_big_endian', [
    'comment invented',
    'element camera 2',
    'property uchar id',
    'element vertex 4',
    'property uchar red',
    'property double z',
    'property float x',
    'property double y',
    'element face 1',
    'property list uchar int vertex_indices',
  ]);
  const body = Buffer.alloc(2 + 4 * 21 + 13);
  for (let i = 0; i < 4; i++) {
    const [x = 0, y = 0, z = 0] = POINTS.slice(3 * i, 3 * i + 3);
    const o = 2 + 21 * i;
    if (little) [body.writeDoubleLE(z, o + 1), body.writeFloatLE(x, o + 9), body.writeDoubleLE(y, o + 13)];
    else [body.writeDoubleBE(z, o + 1), body.writeFloatBE(x, o + 9), body.writeDoubleBE(y, o + 13)];
  }
  return Buffer.concat([Buffer.from(header), body]);
}

describe('PLY', () => {
  it.each([true, false])('binary, little-endian %s: other elements, other properties, any order', (little) => {
    const scan = read(binaryPly(little));
    expect(scan.format).toBe(little ? 'ply-binary-le' : 'ply-binary-be');
    expect(scan.count).toBe(4);
    expect(inFile(scan)).toEqual(POINTS);
    expect(scan.bounds).toEqual({ least: [-0.05, 0, 0], greatest: [0.1005, 0.20025, 0.3] });
  });

  it.each(['\n', '\r\n', '\r'])('text with line end %j', (end) => {
    const text = `${plyHeader('ascii', ['element vertex 4', 'property float nx', ...XYZ])}9 0 0 0\n9 1.005e2 0 0\n9 0 200.25 0\n9 -50 20 300\n`;
    const scan = read(text.replaceAll('\n', end));
    expect(scan.format).toBe('ply-ascii');
    expect(inFile(scan)).toEqual(POINTS);
  });

  it('reads back what the writer writes, over several chunks (seed 81)', () => {
    const points = sampleBox(
      { centre: [5, -3, 1], size: [0.8, 0.6, 0.4] },
      { spacing: 0.004, sigma: 1e-4 },
      seededRandom(81),
    );
    const scan = read(writeBinaryPly(points, 1000));
    expect(scan.count).toBe(points.length / 3);
    expect(scan.count).toBeGreaterThan(100_000);
    let worst = 0;
    for (let i = 0; i < points.length; i++) {
      worst = Math.max(worst, Math.abs((scan.points[i] ?? 9) + (scan.origin[i % 3] ?? 9) - (points[i] ?? 0)));
    }
    expect(worst).toBeLessThan(1e-6);
  });

  it.each<[string, string | Buffer, ReadCode, RegExp]>([
    [
      '2 GiB claimed in 200 bytes',
      plyHeader('binary_little_endian', ['element vertex 178956970', ...XYZ]).padEnd(200, ' '),
      'truncated',
      /promises 178,956,970 points = 2,147,483,\d+ bytes, the file has 200/,
    ],
    [
      '2 GiB of text claimed',
      plyHeader('ascii', ['element vertex 400000000', ...XYZ]),
      'truncated',
      /promises 400,000,000 points/,
    ],
    [
      'cut in the data',
      binaryPly(true).subarray(0, -40),
      'truncated',
      /promises 4 points = \d+ bytes, the file has \d+/,
    ],
    ['cut in the header', 'ply\nformat ascii 1.0\nelement ver', 'truncated', /end_header/],
    [
      'fewer rows than promised',
      `${plyHeader('ascii', ['element vertex 3', ...XYZ])}0 0 0\n100 0 0 ${' '.repeat(20)}\n`,
      'truncated',
      /promises 3 points, the file ends after 2/,
    ],
    [
      'a row of words',
      `${plyHeader('ascii', ['element vertex 2', ...XYZ])}0 0 0\n1 two 3 and more\n`,
      'malformed',
      /line 9 is not one/,
    ],
    [
      'no vertex element',
      plyHeader('ascii', ['element face 0', 'property list uchar int i']),
      'no-coordinates',
      /"vertex".*"face"/,
    ],
    [
      'no z',
      plyHeader('ascii', ['element vertex 1', 'property float x', 'property float y', 'property float w']),
      'no-coordinates',
      /z missing among "x", "y", "w"/,
    ],
    ['no vertices', plyHeader('ascii', ['element vertex 0', ...XYZ]), 'empty', /0 vertices/],
    ['count below zero', plyHeader('ascii', ['element vertex -5', ...XYZ]), 'bad-header', /whole number.*"-5"/],
    ['no format line', 'ply\nelement vertex 1\nend_header\n0 0 0\n', 'bad-header', /"format"/],
    [
      'unknown encoding',
      plyHeader('binary_middle_endian', ['element vertex 1', ...XYZ]),
      'unsupported',
      /binary_middle_endian/,
    ],
    ['unknown type', plyHeader('ascii', ['element vertex 1', 'property quad x']), 'unsupported', /"quad"/],
    [
      'lists in vertices',
      plyHeader('ascii', ['element vertex 1', ...XYZ, 'property list uchar int n']),
      'unsupported',
      /list in each vertex/,
    ],
  ])('refuses: %s', (_, content, code, words) => {
    const problem = problemOf(content);
    expect(problem.code).toBe(code);
    expect(problem.message).toMatch(words);
  });
});
