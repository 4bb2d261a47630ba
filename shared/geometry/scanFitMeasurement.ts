import type { Motion } from './motion.ts';

/** How well one scan can be laid on another that it overlaps. */
export interface ScanFitJob {
  readonly kind: 'scanFit';
  /** The scan that is to be moved, then the one it is to lie on, by their names on the car. */
  readonly scans: readonly [moving: string, onto: string];
}

/** What is left between two scans where they overlap: distances of points of one square to the surface of the other, metres. */
export interface LeftBetween {
  readonly rms: number;
  /** Nineteen of twenty are smaller. */
  readonly size95: number;
}

/** A fine fit. Lengths in metres. */
export interface ScanFitResult {
  /** Moves the first scan, where it lies on the car, onto the second. */
  readonly motion: Motion;
  /** Farthest that it moves a point that was compared. */
  readonly shift: number;
  /** Points compared after the fit. */
  readonly compared: number;
  /** They are this share of the points looked at; 0 to 1. */
  readonly overlap: number;
  readonly before: LeftBetween;
  readonly after: LeftBetween;
  /** Whether it came to rest. */
  readonly settled: boolean;
}

/** Kinds of measurement between scans. */
export interface ScanFitKinds {
  readonly scanFit: { readonly job: ScanFitJob; readonly result: ScanFitResult };
}
