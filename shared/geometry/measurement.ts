import { digest } from 'lib0/hash/sha256';
import { encodeUtf8 } from 'lib0/string';
import type { Vec3 } from './vector.ts';

/** How near a tube comes to a scan: the input of one measurement. Lengths in metres. */
export interface ClearanceJob {
  readonly kind: 'clearance';
  /** SHA-256 of the scan's content, lower-case hex. */
  readonly scan: string;
  /** Centreline node table, flat: x, y, z, bend radius of every node in turn. */
  readonly nodes: readonly number[];
  readonly outerRadius: number;
  /** Distance along the centreline from which the tube counts. */
  readonly fromS: number;
}

/** The smallest distance between the tube's outer surface and the scan, and where; metres. See Gap in gap.ts. */
export interface ClearanceResult {
  /** Negative when a scan point is inside the tube. */
  readonly gap: number;
  readonly point: Vec3;
  readonly foot: Vec3;
  readonly onTube: Vec3;
  readonly s: number;
  /** Number of points in the scan. */
  readonly points: number;
  /** The most by which the gap may be overstated because the scan is a sampled surface; 0 for a scan of points. */
  readonly cover: number;
}

/** Why a measurement has no result: a stable code and a sentence that says what was expected and what came. */
export interface MeasureProblem {
  readonly code: string;
  readonly message: string;
}

/** Counts up when the same job may give another result, so that kept results are not mistaken for new ones. */
export const MEASUREMENT_VERSION = 2;

/**
 * The name of a job by its content: SHA-256 (lower-case hex) over version, kind, scan and parameters. Equal jobs have equal names
 * everywhere, whoever makes them. Numbers enter as their shortest exact decimal form, so any change of any number changes the name.
 */
export function jobKey(job: ClearanceJob): string {
  const numbers = [job.outerRadius, job.fromS, ...job.nodes].join(',');
  const text = `measurement/${MEASUREMENT_VERSION}|${job.kind}|${job.scan}|${numbers}`;
  let name = '';
  for (const byte of digest(encodeUtf8(text))) name += byte < 16 ? `0${byte.toString(16)}` : byte.toString(16);
  return name;
}
