import type { UnknownValue } from '../../units/known.ts';
import { contradiction } from '../limits.ts';

/** Diameters of an ISO metric thread, m. */
export interface MetricThread {
  /** d2 = d - 0.649519 P. */
  readonly pitchDiameter: number;
  /** d3 = d - 1.226869 P, at the root of the bolt's thread. */
  readonly rootDiameter: number;
}

/** Diameters of the thread with this nominal diameter and pitch, m. Source: ISO 724 with ISO 68-1 (memory). */
export function metricThread(diameter: number, pitch: number): MetricThread {
  return { pitchDiameter: diameter - 0.649519 * pitch, rootDiameter: diameter - 1.226869 * pitch };
}

/** Reason to refuse a pitch so coarse that nothing is left of the core, or null. */
export function threadFault(id: string, diameter: number, pitch: number): UnknownValue | null {
  const { rootDiameter } = metricThread(diameter, pitch);
  if (rootDiameter > 0) return null;
  return contradiction(
    `${id}: expected a pitch below 0.815 of the diameter ${diameter} m, so that a core is left, got ${pitch} m`,
  );
}
