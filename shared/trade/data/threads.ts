/** Threads of the stud table. */
export const threadKeys = ['M6', 'M7', 'M8', 'M8x1', 'M10', 'M10x1', 'M10x1.25', 'M12', 'M12x1.25', 'M12x1.5'] as const;
/** Key of a row of {@link threads}. */
export type ThreadKey = (typeof threadKeys)[number];

/** Metric thread; lengths in m, area in m2. */
export interface Thread {
  readonly diameter: number;
  readonly pitch: number;
  /** Tabulated nominal stress area. */
  readonly stressArea: number;
  /** How the stress area is known. */
  readonly trust: 'excerpt' | 'memory';
}

/**
 * Threads by designation. Source: ISO 724 (sizes), ISO 898-1 (nominal stress areas): the coarse threads read in an excerpt, the fine ones
 * from memory and within 0.2 % of the formula.
 */
export const threads: Readonly<Record<ThreadKey, Thread>> = {
  M6: { diameter: 6e-3, pitch: 1e-3, stressArea: 20.1e-6, trust: 'excerpt' },
  M7: { diameter: 7e-3, pitch: 1e-3, stressArea: 28.9e-6, trust: 'excerpt' },
  M8: { diameter: 8e-3, pitch: 1.25e-3, stressArea: 36.6e-6, trust: 'excerpt' },
  M8x1: { diameter: 8e-3, pitch: 1e-3, stressArea: 39.2e-6, trust: 'memory' },
  M10: { diameter: 10e-3, pitch: 1.5e-3, stressArea: 58e-6, trust: 'excerpt' },
  M10x1: { diameter: 10e-3, pitch: 1e-3, stressArea: 64.5e-6, trust: 'memory' },
  'M10x1.25': { diameter: 10e-3, pitch: 1.25e-3, stressArea: 61.2e-6, trust: 'memory' },
  M12: { diameter: 12e-3, pitch: 1.75e-3, stressArea: 84.3e-6, trust: 'excerpt' },
  'M12x1.25': { diameter: 12e-3, pitch: 1.25e-3, stressArea: 92.1e-6, trust: 'memory' },
  'M12x1.5': { diameter: 12e-3, pitch: 1.5e-3, stressArea: 88.1e-6, trust: 'memory' },
};
