import { digest } from 'lib0/hash/sha256';
import { encodeUtf8 } from 'lib0/string';
import type { AccessKinds } from './accessMeasurement.ts';
import type { DeviationKinds } from './deviationMeasurement.ts';
import type { PartKinds } from './partMeasurement.ts';
import { uploadedScan } from './placedScan.ts';
import type { ScanFitKinds } from './scanFitMeasurement.ts';
import type { TubeShape } from './tubeShape.ts';
import type { Vec3 } from './vector.ts';

/** See tubeShape.ts. */
export type { TubeShape } from './tubeShape.ts';

/** How near a tube comes to a scan. */
export interface ClearanceJob extends TubeShape {
  readonly kind: 'clearance';
  /** Name of the scan: SHA-256 of its content, lower-case hex, and its unit. */
  readonly scan: string;
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

/** How far apart the points of a scan stand near the header. */
export interface ScanSpacingJob {
  readonly kind: 'scanSpacing';
  readonly scan: string;
  readonly tubes: readonly TubeShape[];
  /** Only points nearer than this to the outside of a tube count, metres. */
  readonly reach: number;
}

/** Distances to the nearest other point, of the points near the header; metres. */
export interface ScanSpacingResult {
  /** Points within reach. */
  readonly near: number;
  /** How many of them, evenly picked, were measured: the median is theirs. */
  readonly measured: number;
  /** Middle one of the distances; 0 when none was measured. */
  readonly median: number;
  /** Above 0 when the scan is a surface sampled by us: then the spacing is ours and says nothing of the scanner. Metres. */
  readonly cover: number;
}

/** How much of what can be seen from the header has been scanned. */
export interface ScanCoverageJob {
  readonly kind: 'scanCoverage';
  readonly scans: readonly string[];
  readonly tubes: readonly TubeShape[];
  /** How far is looked from the outside of a tube, metres. */
  readonly reach: number;
}

/** Areas looked at from the tubes, as laid on cylinders about their centrelines; m2. See scan/coverage.ts of the measuring server. */
export interface ScanCoverageResult {
  /** Of looks that end on scanned points within reach. */
  readonly seen: number;
  /** Of looks that end on nothing, where a surface goes straight on from one side to the other. */
  readonly gap: number;
  /** Looks that end on nothing within reach and between nothing that goes on, as a share of all looks that no other tube blocks. */
  readonly open: number;
  /** The middle of the widest gap, when there is one; metres. */
  readonly at: Vec3 | null;
}

/** The box around a scan. */
export interface ScanExtentsJob {
  readonly kind: 'scanExtents';
  readonly scan: string;
}

/** Least and greatest corner of a scan, metres, and its number of points. */
export interface ScanExtentsResult {
  readonly least: Vec3;
  readonly greatest: Vec3;
  readonly points: number;
}

/**
 * Every kind of measurement: what it is asked with and what it gives. Plain data, both travel as JSON. A new kind is an entry here, one in
 * the worker's table (server/measure/workers/kinds.ts) and one in the shapes of the result cache (server/measure/result-shapes.ts): the
 * compiler asks for the other two. What a job reads of files it names by content in `scan`, `scans`, `mesh` or `meshes`. Those on
 * parts stand in partMeasurement.ts, those of room and access in accessMeasurement.ts, that on scans of pieces in deviationMeasurement.ts, that
 * between scans in scanFitMeasurement.ts.
 */
export interface MeasureKinds extends PartKinds, AccessKinds, DeviationKinds, ScanFitKinds {
  readonly clearance: { readonly job: ClearanceJob; readonly result: ClearanceResult };
  readonly scanSpacing: { readonly job: ScanSpacingJob; readonly result: ScanSpacingResult };
  readonly scanCoverage: { readonly job: ScanCoverageJob; readonly result: ScanCoverageResult };
  readonly scanExtents: { readonly job: ScanExtentsJob; readonly result: ScanExtentsResult };
}
/** Name of a kind of measurement. */
export type MeasureKind = keyof MeasureKinds;
/** The input of one measurement. */
export type MeasureJob<K extends MeasureKind = MeasureKind> = { readonly [P in K]: MeasureKinds[P]['job'] }[K];
/** What a measurement of a kind gives. */
export type MeasureResult<K extends MeasureKind = MeasureKind> = { readonly [P in K]: MeasureKinds[P]['result'] }[K];

/** Why a measurement has no result: a stable code and a sentence that says what was expected and what came. */
export interface MeasureProblem {
  readonly code: string;
  readonly message: string;
}

/** Counts up when the same job may give another result, so that kept results are not mistaken for new ones. */
export const MEASUREMENT_VERSION = 6;

/** Names of the scans a job reads, as uploaded: where one was moved to is no other file. */
export function scansOf(job: MeasureJob): readonly string[] {
  if ('scan' in job) return [uploadedScan(job.scan)];
  return 'scans' in job ? [...new Set(job.scans.map(uploadedScan))] : [];
}

/** Names of the meshes a job reads. */
export function meshesOf(job: MeasureJob): readonly string[] {
  if ('mesh' in job) return [job.mesh];
  return 'meshes' in job ? job.meshes : [];
}

/**
 * The name of a job by its content: SHA-256 (lower-case hex) over version and job. Equal jobs have equal names everywhere, whoever makes
 * them and in whatever order they write the members. Numbers enter as their shortest exact decimal form, so any change of any number
 * changes the name.
 */
export function jobKey(job: MeasureJob): string {
  return hashed(`measurement/${MEASUREMENT_VERSION}|${canonical(job)}`);
}

function hashed(text: string): string {
  let name = '';
  for (const byte of digest(encodeUtf8(text))) name += byte < 16 ? `0${byte.toString(16)}` : byte.toString(16);
  return name;
}

/** Names of lists of things, by the list itself: the header's tubes stand in dozens of jobs and are hashed once. */
const lists = new WeakMap<object, string>();

/** Plain data as text; a list of things (not of numbers or words) by the hash of its text. */
function canonical(value: unknown): string {
  if (Array.isArray(value)) {
    if (typeof value[0] !== 'object') return `[${value.map(canonical).join(',')}]`;
    const name = lists.get(value) ?? hashed(`[${value.map(canonical).join(',')}]`);
    lists.set(value, name);
    return name;
  }
  if (typeof value === 'string') return JSON.stringify(value);
  if (typeof value !== 'object' || value === null) return String(value);
  const members = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return `{${members.map(([key, member]) => `${key}:${canonical(member)}`).join(',')}}`;
}
