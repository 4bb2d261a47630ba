import type { Source } from '../source.ts';

/** Mean roughness depth Rz of the faces: below 10, 10 to 40, 40 to 160 um. */
export const jointRoughnesses = ['fine', 'medium', 'coarse'] as const;
/** One of {@link jointRoughnesses}. */
export type JointRoughness = (typeof jointRoughnesses)[number];

/** Settling per interface under axial load, m. */
export interface EmbeddingDepths {
  readonly thread: number;
  /** Under head or nut. */
  readonly nut: number;
  /** Between two clamped parts. */
  readonly joint: number;
}

const um = 1e-6;

/** Settling by roughness. */
export const embeddingDepths: Readonly<Record<JointRoughness, EmbeddingDepths>> = {
  fine: { thread: 3 * um, nut: 2.5 * um, joint: 1.5 * um },
  medium: { thread: 3 * um, nut: 3 * um, joint: 2 * um },
  coarse: { thread: 3 * um, nut: 4 * um, joint: 3 * um },
};

/** Where {@link embeddingDepths} come from. */
export const embeddingSource: Source = { document: 'VDI 2230 sheet 1', clause: 'table 5, axial load', trust: 'memory' };
