import type { FeedSnapshot } from '../../shared/protocol/events.ts';
import type { Bounds, ScanUnit } from '../../shared/protocol/http.ts';
import type { Clock, Random } from '../ambient.ts';
import type { Auth } from '../auth/auth.ts';
import type { Config } from '../config.ts';
import type { SigningOutcome, SigningWish } from '../record/signing.ts';
import type { Blobs, Records } from '../storage/ports.ts';

/** A scan as it lies on disk; its name tells the format, because a stored file has none. */
export interface ScanFile {
  readonly file: string;
  readonly name: string;
  readonly sha256: string;
  readonly unit: ScanUnit;
  readonly metresPerUnit: number;
}

/** What a reader found, or what the person who brought the file should know. */
export type ScanReading =
  | {
      readonly kind: 'read';
      readonly points: number;
      readonly format: string;
      /** Metres. */
      readonly bounds: Bounds;
      /** Median distance between neighbours, metres; null if it could not be told. */
      readonly spacing: number | null;
    }
  | { readonly kind: 'problem'; readonly message: string; readonly expected?: string; readonly came?: string };

/** The little that HTTP needs of the measuring part. */
export interface Measure {
  /** Never throws for bad data: that is a problem, not a fault. */
  readScan(scan: ScanFile): Promise<ScanReading>;
  /** At most `max` points spread over the scan: x, y, z, x, y, z... in metres. */
  thin(scan: ScanFile, max: number): Promise<Float32Array>;
}

/** Tells the operator of a fault; never shown to the person who asked. */
export type Alarm = (error: unknown, where: string) => void;

/** Resolves if all is well, rejects with the reason. */
export type Check = () => Promise<void>;

/** The little that HTTP needs of the live projects. */
export interface LiveProjects {
  /** Entries of the spec document. */
  entries(project: string): Promise<ReadonlyMap<string, unknown>>;
  snapshot(project: string): Promise<FeedSnapshot>;
  /** Signs, or says why not; the password was confirmed before. */
  sign(project: string, wish: SigningWish): Promise<SigningOutcome>;
  /** A scan was added: tell who is looking, measure what waited for it. */
  scanAdded(project: string): Promise<void>;
}

export interface HttpParts {
  readonly records: Records;
  readonly blobs: Blobs;
  readonly auth: Auth;
  readonly measure: Measure;
  readonly clock: Clock;
  readonly random: Random;
  readonly config: Config;
  readonly alarm: Alarm;
  readonly live: LiveProjects;
  /** More checks for /readyz, by name (the journal, for one). */
  readonly checks?: Readonly<Record<string, Check>>;
  /** Folder of the built web app; nothing is served without it. */
  readonly webDir?: string;
}
