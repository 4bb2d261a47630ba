import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import type { ClearanceJob } from './measurement.ts';
import { jobKey, MEASUREMENT_VERSION } from './measurement.ts';

const job: ClearanceJob = {
  kind: 'clearance',
  scan: 'ab'.repeat(32),
  nodes: [0, 0, 0, 0, 0.1, 0, 0, 0],
  outerRadius: 0.02,
  fromS: 0.03,
};

describe('job key', () => {
  it('is SHA-256 of the canonical text', () => {
    const text = `measurement/${MEASUREMENT_VERSION}|clearance|${job.scan}|0.02,0.03,0,0,0,0,0.1,0,0,0`;
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
});
