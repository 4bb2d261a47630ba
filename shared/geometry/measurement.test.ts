import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { ClearanceJob, MeasureJob } from './measurement.ts';
import { jobKey, MEASUREMENT_VERSION, scansOf } from './measurement.ts';

const job: ClearanceJob = {
  kind: 'clearance',
  scan: 'ab'.repeat(32),
  nodes: [0, 0, 0, 0, 0.1, 0, 0, 0],
  outerRadius: 0.02,
  fromS: 0.03,
};

describe('job key', () => {
  it('is SHA-256 of the canonical text', () => {
    const members = `fromS:0.03,kind:"clearance",nodes:[0,0,0,0,0.1,0,0,0],outerRadius:0.02,scan:"${job.scan}"`;
    const text = `measurement/${MEASUREMENT_VERSION}|{${members}}`;
    expect(jobKey(job)).toBe(createHash('sha256').update(text).digest('hex'));
  });

  it('is the same whatever order the fields were written in', () => {
    const { kind, scan, nodes, outerRadius, fromS } = job;
    expect(jobKey({ fromS, outerRadius, nodes: [...nodes], scan, kind })).toBe(jobKey(job));
  });

  it.each<[string, Partial<ClearanceJob>]>([
    ['scan', { scan: 'cd'.repeat(32) }],
    ['radius', { outerRadius: 0.02 + 1e-17 * 2 ** 3 }],
    ['start', { fromS: 0.031 }],
    ['a node', { nodes: [0, 0, 0, 0, 0.1, 0, 1e-12, 0] }],
    ['number of nodes', { nodes: [0, 0, 0, 0] }],
  ])('changes with %s', (_, change) => {
    expect(jobKey({ ...job, ...change })).not.toBe(jobKey(job));
  });

  it.each<[string, Partial<MeasureJob>]>([
    ['reach', { reach: 0.05 }],
    ['the number of scans', { scans: ['a'] }],
    ['the order of scans', { scans: ['b', 'a'] }],
    [
      'a tube',
      {
        tubes: [
          { nodes: [1, 2, 3, 4], outerRadius: 0.02, fromS: 0 },
          { nodes: [], outerRadius: 0.02, fromS: 0 },
        ],
      },
    ],
    [
      'where one tube ends',
      {
        tubes: [
          { nodes: [1, 2], outerRadius: 0.02, fromS: 0 },
          { nodes: [3, 4], outerRadius: 0.02, fromS: 0 },
        ],
      },
    ],
  ])('of a job with lists changes with %s', (_, change) => {
    const whole = {
      kind: 'scanCoverage',
      scans: ['a', 'b'],
      tubes: [{ nodes: [1, 2, 3, 4], outerRadius: 0.02, fromS: 0 }],
      reach: 0.06,
    } as const;
    expect(jobKey({ ...whole, ...change } as MeasureJob)).not.toBe(jobKey(whole));
    expect(jobKey({ ...whole, scans: ['a', 'b'] })).toBe(jobKey(whole));
  });

  it('tells kinds apart', () => {
    const extents = { kind: 'scanExtents', scan: job.scan } as const;
    expect(jobKey(extents)).not.toBe(jobKey(job));
    expect(scansOf(extents)).toEqual([job.scan]);
    expect(scansOf({ kind: 'scanCoverage', scans: ['a', 'b'], tubes: [], reach: 1 })).toEqual(['a', 'b']);
  });
});
