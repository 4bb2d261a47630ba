import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../shared/geometry/random.ts';
import { lazFile } from './laz.fixture.ts';
import type { ReadCode, ReadProblem } from './problem.ts';
import { type ReadScan, readAnyScan } from './scan.ts';
import { inFile, MM, POINTS, problemOf, written } from './upload.fixture.ts';

async function readPacked(file: Buffer, options = MM): Promise<ReadScan> {
  const outcome = await readAnyScan(written(file), options);
  if (!outcome.ok) throw new Error(outcome.problem.message);
  return outcome.scan;
}

async function refusal(file: Buffer, options = MM): Promise<ReadProblem> {
  const outcome = await readAnyScan(written(file), options);
  if (outcome.ok) throw new Error(`expected a refusal, read ${outcome.scan.count} points`);
  return outcome.problem;
}

/** A sheet with noise and jumps, tenths of a millimetre: corrections of few and of many bits. */
function sheet(count: number, seed: number): number[] {
  const random = seededRandom(seed);
  const out: number[] = [];
  for (let i = 0; i < count; i++) {
    const jump = i % 97 === 0 ? 400 * random() : 0;
    out.push((i % 250) + random(), Math.floor(i / 250) + random(), 5 * random() + jump);
  }
  return out.map((x) => Math.round(x * 1e4) / 1e4);
}

describe('LAZ files', () => {
  it.each([
    ['one chunk', 50_000, 4],
    ['a point a chunk', 1, 12],
    ['chunks of 7', 7, 3000],
    ['chunks of 1000', 1000, 25_000],
  ])('are read: %s', async (_, chunk, count) => {
    const points = count === 4 ? POINTS : sheet(count, 91);
    const scan = await readPacked(lazFile(points, { chunk }));
    expect(scan).toMatchObject({ format: 'laz', count });
    expect(inFile(scan)).toEqual(points);
  });

  it('are refused by the reading that cannot wait for the unpacker, in words', () => {
    expect(problemOf(lazFile(POINTS))).toMatchObject({ code: 'unsupported' });
  });

  const packed = lazFile(sheet(3000, 92), { chunk: 500 });
  const changed = (at: number, bytes: readonly number[]) => {
    const file = Buffer.from(packed);
    file.set(bytes, at);
    return file;
  };
  it.each<[string, Buffer, ReadCode, RegExp]>([
    ['an end cut off', packed.subarray(0, packed.length - 2000), 'truncated', /table of its packed points at byte/],
    ['all points cut off', packed.subarray(0, 325), 'truncated', /table of its packed points/],
    ['a table place that lies', changed(321, [0, 0, 0, 0, 0, 0, 0, 127]), 'truncated', /at byte 9151314442816847872/],
    ['a count that lies', lazFile(POINTS, { claim: 4e9 }), 'too-many-points', /the file has 4,000,000,000/],
    ['a count that lies a little', lazFile(POINTS, { claim: 5_000_000 }), 'malformed', /Expected packed points/],
    ['no record of how it is packed', changed(229, [0, 0, 0, 0]), 'malformed', /unpacking broke after 0/],
    ['a chunk size of 0', changed(227 + 54 + 12, [0, 0, 0, 0]), 'malformed', /Expected packed points/],
    ['a packed point changed', changed(329, [0, 0, 0, 1]), 'malformed', /as the header says, got .* damaged/],
    ['a single point', lazFile([1, 2, 3]), 'implausible-extents', /between 0.02 m and 20 m/],
    ['no points', lazFile([]), 'empty', /header says 0/],
  ])('refuses: %s', async (_, file, code, words) => {
    const problem = await refusal(file);
    expect(problem.message).toMatch(words);
    expect(problem.code).toBe(code);
  });

  it('refuses more points than are taken', async () => {
    expect(await refusal(packed, { ...MM, maxPoints: 2999 })).toMatchObject({ code: 'too-many-points' });
  });

  it('gives a scan or a problem for damage, never a throw, and reads the next file well (seed 93)', {
    timeout: 60_000,
  }, async () => {
    const random = seededRandom(93);
    const small = lazFile(sheet(300, 94), { chunk: 50 });
    const codes = new Set<string>();
    for (let n = 0; n < 60; n++) {
      const bad = Buffer.from(small);
      for (let k = 0; k < 3; k++) bad[90 + Math.floor(random() * (bad.length - 90))] = Math.floor(random() * 256);
      const outcome = await readAnyScan(written(bad), { unitFactor: 0.001, maxPoints: 20_000 });
      codes.add(outcome.ok ? 'read' : outcome.problem.code);
    }
    expect(codes.size).toBeGreaterThan(2);
    expect((await readPacked(small)).count).toBe(300);
  });
});
