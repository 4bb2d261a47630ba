import { describe, expect, it } from 'vitest';
import { lasFile } from './las.fixture.ts';
import type { ReadCode } from './problem.ts';
import { inFile, MM, POINTS, problemOf, read } from './upload.fixture.ts';

const METRES = { unitFactor: 1 };

describe('LAS files', () => {
  const versions = [0, 1, 2, 3, 4].flatMap((minor) =>
    Array.from({ length: minor < 3 ? 4 : minor === 3 ? 6 : 11 }, (_, format) => [minor, format] as const),
  );
  it.each(versions)('are read: version 1.%d, point format %d', (minor, format) => {
    const scan = read(lasFile(POINTS, { minor, format }));
    expect(scan).toMatchObject({ format: 'las', count: 4 });
    expect(inFile(scan)).toEqual(POINTS);
  });

  it('are read with further bytes in each record, in any unit, and far from zero without loss', () => {
    const shift = [512_000, 5_400_000, 210] as const;
    const far = POINTS.map((x, i) => x / 1000 + (shift[i % 3] ?? 0));
    const scan = read(lasFile(far, { format: 3, extra: 7, shift }), METRES);
    // Float32 around such places would be off by half a metre.
    expect(inFile(scan, 1).every((x, i) => Math.abs(x - (far[i] ?? 0)) < 0.00011)).toBe(true);
    expect(scan.bounds.least[0]).toBeCloseTo(512_000 - 0.05, 6);
    expect(scan.bounds.greatest[2] - scan.bounds.least[2]).toBeCloseTo(0.3, 6);
  });

  it('are read over many chunks in order', () => {
    const points = Array.from({ length: 3 * 80_000 }, (_, i) => ((i * 7919) % 1_000_003) / 1000);
    const scan = read(lasFile(points, { scale: 0.001 }));
    expect(scan.count).toBe(80_000);
    expect(inFile(scan).slice(-3)).toEqual(points.slice(-3));
  });

  const with8 = (at: number, value: number) => {
    const file = lasFile(POINTS);
    file.writeDoubleLE(value, at);
    return file;
  };
  const withByte = (at: number, value: number, minor = 2) => {
    const file = lasFile(POINTS, { minor });
    file.writeUInt8(value, at);
    return file;
  };
  const twoCounts = () => {
    const file = lasFile(POINTS, { minor: 4 });
    file.writeUInt32LE(3, 107);
    return file;
  };
  it.each<[string, Buffer, ReadCode, RegExp]>([
    ['a header cut short', lasFile(POINTS).subarray(0, 200), 'truncated', /header of at least 227 bytes, got 200/],
    [
      'points cut short',
      lasFile(POINTS).subarray(0, 300),
      'truncated',
      /promises 4 points = 307 bytes, the file has 300/,
    ],
    [
      'a count that lies',
      lasFile(POINTS, { claim: 4e9 }),
      'too-many-points',
      /at most 60,000,000 points, the file has 4,000,000,000/,
    ],
    ['a count that lies a little', lasFile(POINTS, { claim: 5e7 }), 'truncated', /promises 50,000,000 points/],
    [
      'a 64-bit count that lies',
      lasFile(POINTS, { minor: 4, format: 6, claim: 2 ** 52 }),
      'too-many-points',
      /at most/,
    ],
    ['two counts', twoCounts(), 'bad-header', /says 3 and 4/],
    ['no points', lasFile([]), 'empty', /header says 0/],
    ['another version', withByte(25, 5), 'unsupported', /1.0 to 1.4, got 1.5/],
    ['another point format', withByte(104, 11), 'unsupported', /format 0 to 10, got 11/],
    ['records too short', withByte(105, 19), 'bad-header', /at least 20 bytes for point format 0, got 19/],
    ['a header shorter than it must be', withByte(94, 200), 'bad-header', /at least 227 bytes, it says 200/],
    ['points within the header', withByte(96, 10), 'bad-header', /between the header \(227\)/],
    ['a scale of 0', with8(131, 0), 'bad-header', /scales other than 0/],
    ['a scale that is no number', with8(139, Number.NaN), 'bad-header', /scales other than 0/],
    ['an endless offset', with8(171, Number.POSITIVE_INFINITY), 'bad-header', /finite offsets/],
    ['a single point', lasFile([1, 2, 3]), 'implausible-extents', /between 0.02 m and 20 m/],
    ['compressed points that are none', withByte(104, 0x80), 'unsupported', /got LAZ/],
  ])('refuses: %s', (_, file, code, words) => {
    const problem = problemOf(file, MM);
    expect(problem.code).toBe(code);
    expect(problem.message).toMatch(words);
  });
});
