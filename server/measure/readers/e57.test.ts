import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { crc32c } from './crc32c.ts';
import { type E57Damage, type E57Part, e57File } from './e57.fixture.ts';
import type { ReadCode } from './problem.ts';
import { readScan } from './scan.ts';
import { inFile, MM, problemOf, read, written } from './upload.fixture.ts';

const METRES = [0, 0, 0, 0.1005, 0, 0, 0, 0.2002, 0, -0.05, 0.02, 0.3];
const pose = (q: readonly number[], t: readonly number[]) => {
  const members = (names: string, values: readonly number[]) =>
    [...names].map((name, i) => `<${name} type="Float">${values[i]}</${name}>`).join('');
  return `<pose type="Structure"><rotation type="Structure">${members('wxyz', q)}</rotation><translation type="Structure">${members('xyz', t)}</translation></pose>`;
};
const many = (n: number, seed: number) => {
  const random = seededRandom(seed);
  return Array.from({ length: 3 * n }, () => Math.round((random() - 0.5) * 1e5) / 1e5);
};
const places = (scan: ReturnType<typeof read>) => inFile(scan, 1).map((x) => x + 0);

describe('page sums', () => {
  it.each([
    // Source: RFC 3720, appendix B.4, and the usual check word.
    ['123456789', Buffer.from('123456789'), 0xe3069283],
    ['32 bytes of zero', Buffer.alloc(32), 0x8a9136aa],
    ['32 bytes of ones', Buffer.alloc(32, 0xff), 0x62a8ab43],
    ['counting up', Buffer.from(Array.from({ length: 32 }, (_, i) => i)), 0x46dd794e],
    ['nothing', Buffer.alloc(0), 0],
  ])('are CRC-32C: %s', (_, bytes, expected) => {
    expect(crc32c(bytes)).toBe(expected);
    const within = Buffer.concat([Buffer.from('xyz'), bytes, Buffer.from('end')]);
    expect(crc32c(within, 3, 3 + bytes.length)).toBe(expected);
  });
});

describe('E57 files', () => {
  it.each<[string, E57Part]>([
    ['double', { points: METRES }],
    ['single', { points: METRES, as: 'single' }],
    ['scaled whole numbers of 32 bits', { points: METRES, as: 'scaled' }],
  ])('are read as metres whatever unit was given: %s', (_, part) => {
    const scan = read(e57File([part]), MM);
    expect(scan).toMatchObject({ format: 'e57', count: 4 });
    expect(places(scan)).toEqual(METRES);
  });

  it('are read over many packets and pages, in order, with bits that go on from one packet to the next', () => {
    const points = many(20_000, 31);
    for (const as of ['double', 'scaled'] as const) {
      const scan = read(e57File([{ points, as, packet: 333 }]));
      expect(scan.count).toBe(20_000);
      const got = Array.from(scan.points, (x, i) => x + (scan.origin[i % 3] ?? 0));
      expect(Math.max(...got.map((x, i) => Math.abs(x - (points[i] ?? 9))))).toBeLessThan(1e-6);
    }
  });

  it('are read as whole numbers of 11 bits, which lie across bytes', () => {
    // Metres: only a bay of whole metres can be written so.
    const points = Array.from({ length: 300 }, (_, i) => ((i * 37) % 10) - 4);
    const scan = read(e57File([{ points, as: 'integer', packet: 7 }]));
    expect(places(scan)).toEqual(points.map((x) => x + 0));
  });

  it('are placed by the pose of each scan and joined', () => {
    const quarter = Math.SQRT1_2;
    const scan = read(
      e57File([
        { points: METRES },
        // A quarter turn about z: x becomes y, y becomes -x.
        { points: [0.1, 0.2, 0.3, 0.2, 0.2, 0.3], pose: pose([quarter, 0, 0, quarter], [1, 2, 3]), as: 'single' },
      ]),
    );
    expect(scan.count).toBe(6);
    expect(places(scan).slice(12)).toEqual([0.8, 2.1, 3.3, 0.8, 2.2, 3.3]);
  });

  it('are read in ranges and angles, and without the points marked invalid', () => {
    const [range, half] = [0.4, Math.PI / 2];
    const points = [range, 0, 0, range, half, 0, range, 0, half, 9, 1, 1];
    const scan = read(e57File([{ points, spherical: true, invalid: [0, 0, 0, 2] }]));
    expect(places(scan)).toEqual([0.4, 0, 0, 0, 0.4, 0, 0, 0, 0.4]);
    expect(places(read(e57File([{ points: [...METRES, Number.NaN, 0, 0], invalid: [0, 0, 0, 0, 1] }])))).toEqual(
      METRES,
    );
  });

  const broken = (at: number) => {
    const file = e57File([{ points: many(60, 3) }]);
    file.writeUInt8((file[at] ?? 0) ^ 4, at);
    return file;
  };
  const whole = (part: Partial<E57Part>, damage: E57Damage = {}) => e57File([{ points: METRES, ...part }], damage);
  const xml = (from: string | RegExp, to: string) => whole({}, { xml: (text) => text.replace(from, to) });
  const header = (change: (head: Buffer) => void) => whole({}, { header: change });
  it.each<[string, Buffer, ReadCode, RegExp]>([
    ['a damaged page of points', broken(100), 'malformed', /page 0 of the E57 file is damaged/],
    ['a damaged page of XML', broken(1100), 'malformed', /page 1 of the E57 file is damaged/],
    ['a damaged sum', broken(1022), 'malformed', /page 0 .* its sum differs/],
    [
      'an end cut off',
      whole({ points: many(100, 3) }).subarray(0, 2048),
      'truncated',
      /promises 4,096 bytes in pages of 1,024, the file has 2,048/,
    ],
    ['a header cut off', whole({}).subarray(0, 40), 'truncated', /header of 48 bytes, got 40/],
    ['another version', header((h) => h.writeUInt32LE(2, 8)), 'unsupported', /version 1, got 2.0/],
    ['pages of 0 bytes', header((h) => h.writeBigUInt64LE(0n, 40)), 'bad-header', /pages of 1024 bytes, got 0/],
    [
      'a size no file has',
      header((h) => h.writeBigUInt64LE(2n ** 63n, 16)),
      'bad-header',
      /sizes that a file can have/,
    ],
    ['XML beyond the file', header((h) => h.writeBigUInt64LE(10n ** 9n, 24)), 'bad-header', /got byte 1,000,000,000/],
    ['XML longer than the file', header((h) => h.writeBigUInt64LE(60_000n, 32)), 'truncated', /the E57 file has/],
    [
      'more XML than is read',
      header((h) => h.writeBigUInt64LE(10n ** 9n, 32)),
      'unsupported',
      /at most 33,554,432 bytes of XML/,
    ],
    ['XML that never ends', xml('</e57Root>', ''), 'malformed', /closed XML elements/],
    [
      'XML that ends something else',
      xml('</data3D>', '</pose>'),
      'malformed',
      /"data3D" to end, got the end of "pose"/,
    ],
    [
      'a document type',
      xml('<!-- a comment with <tags> -->', '<!DOCTYPE bomb>'),
      'unsupported',
      /without a document type/,
    ],
    ['XML without scans', xml(/data3D/g, 'images2D'), 'no-coordinates', /"data3D"/],
    ['other coordinates', xml(/cartesian/g, 'unknown'), 'no-coordinates', /got unknownX, unknownY, unknownZ/],
    ['text as coordinates', whole({ prototype: 'type="String"' }), 'unsupported', /"cartesianX" is String/],
    ['a scale of 0', whole({ prototype: 'type="ScaledInteger" scale="0"' }), 'bad-header', /scale .* got 0/],
    [
      'a maximum below the minimum',
      whole({ prototype: 'type="Integer" minimum="5" maximum="4"' }),
      'bad-header',
      /minimum not above/,
    ],
    [
      'a minimum that is no number',
      whole({ prototype: 'type="Integer" minimum="x"' }),
      'bad-header',
      /whole number, got "x"/,
    ],
    ['a number of records that lies', whole({ claim: 5e7 }), 'truncated', /promises 50,000,000 records of 192 bits/],
    ['one record too many', whole({ claim: 5 }), 'truncated', /5 points .* ended after 4/],
    [
      'millions of records of no bits',
      whole({ claim: 5e7, prototype: 'type="Integer" minimum="1" maximum="1"' }),
      'truncated',
      /records of 0 bits/,
    ],
    ['more than is taken', whole({ claim: 7e7 }), 'truncated', /promises/],
    ['no scan with points', whole({ points: [] }), 'empty', /no scan with any/],
    ['only points marked invalid', whole({ invalid: [1, 1, 2, 2] }), 'empty', /all 4 .* marked invalid/],
    ['a single point', whole({ points: [1, 2, 3] }), 'implausible-extents', /between 0.02 m and 20 m/],
    [
      'a rotation that is none',
      whole({ pose: pose([1, 1, 0, 0], [0, 0, 0]) }),
      'bad-header',
      /length 1 .* got 1.41421/,
    ],
    [
      'a shift that is no number',
      whole({ pose: pose([1, 0, 0, 0], [Number.NaN, 0, 0]) }),
      'malformed',
      /finite number in "x", got "NaN"/,
    ],
    [
      'millimetres against the standard',
      whole({ points: METRES.map((x) => 1e5 * x) }),
      'implausible-extents',
      /between/,
    ],
  ])('refuses: %s', (_, file, code, words) => {
    const problem = problemOf(file);
    expect(problem.message).toMatch(words);
    expect(problem.code).toBe(code);
  });

  it('refuses more points than are taken before reading any', () => {
    const file = e57File([{ points: many(100, 2), as: 'scaled' }]);
    expect(problemOf(file, { ...MM, maxPoints: 99 })).toMatchObject({ code: 'too-many-points' });
  });

  it('gives a scan or a problem for damage behind the sums, never a throw (seed 86)', () => {
    const random = seededRandom(86);
    const codes = new Set<string>();
    for (let n = 0; n < 300; n++) {
      const hit = (text: string): string => {
        const at = Math.floor(random() * text.length);
        return n % 2 ? `${text.slice(0, at)}${String.fromCharCode(32 + 90 * random())}${text.slice(at + 1)}` : text;
      };
      const file = e57File([{ points: METRES, as: n % 3 ? 'scaled' : 'double', invalid: [0, 0, 0, 0] }], {
        xml: hit,
        header: (head) => n % 2 || head.writeUInt8(Math.floor(256 * random()), 8 + Math.floor(40 * random())),
      });
      const outcome = readScan(written(file), { unitFactor: 1, maxPoints: 20_000 });
      codes.add(outcome.ok ? 'read' : outcome.problem.code);
    }
    expect(codes.size).toBeGreaterThan(4);
  });
});
