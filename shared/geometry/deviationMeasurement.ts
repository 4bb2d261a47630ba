import type { Vec3 } from './vector.ts';

/** How far the scan of a made piece lies from its model. */
export interface DeviationJob {
  readonly kind: 'deviation';
  readonly scan: string;
  readonly mesh: string;
  /** `as-placed` compares where both files lie; `best-fit` brings the scan onto the model first, wherever it lies. */
  readonly fit: 'as-placed' | 'best-fit';
}

/** Distances of scanned points from the model, above 0 outside of it; metres. */
export interface DeviationResult {
  /** Points of the scan, and how many of them, evenly picked, were compared. */
  readonly points: number;
  readonly compared: number;
  /** Where both files lie: root mean square, and 95 % point of the sizes. */
  readonly before: { readonly rms: number; readonly size95: number };
  /** What follows is after the fit, if there was one. */
  readonly mean: number;
  /** Sample standard deviation. */
  readonly deviation: number;
  readonly rms: number;
  /** 95 % of the sizes are smaller. */
  readonly size95: number;
  /** Greatest size, and where the point that has it lies on the model. */
  readonly largest: number;
  readonly at: Vec3;
}

/** The kinds of measurement on a scan of a piece. */
export interface DeviationKinds {
  readonly deviation: { readonly job: DeviationJob; readonly result: DeviationResult };
}
