import { judgeOf } from './judge.ts';

/** A face as the judge found it; lengths in the unit of the file. */
export interface JudgedFace {
  readonly kind: 'Plane' | 'Cylinder' | 'Torus';
  readonly area: number;
  readonly loops: number;
  /** Radii of the surface. */
  readonly sizes: readonly number[];
  /** Where the frame of its surface stands, and its axis, turned round where the face looks against its surface. */
  readonly at: readonly number[];
  readonly outward: readonly number[];
}

/** A solid as the judge found it; lengths in the unit of the file. */
export interface JudgedSolid {
  readonly name: string;
  /** What is wrong with it, in words. */
  readonly faults: readonly string[];
  readonly volume: number;
  readonly area: number;
  readonly centroid: readonly number[];
  readonly vertices: number;
  readonly edges: number;
  readonly faces: number;
  readonly genus: number;
  readonly boundary: readonly JudgedFace[];
  /** Farthest that a vertex is from its curve, a curve from a surface of its faces, a direction from unit length or square. */
  readonly off: { readonly vertices: number; readonly curves: number; readonly frames: number };
  /** Largest difference of two orders of quadrature, a share. */
  readonly quadrature: number;
}

/** A file as the judge found it. */
export interface JudgedFile {
  readonly faults: readonly string[];
  readonly solids: readonly JudgedSolid[];
  /** Missing when the text could not be read at all. */
  readonly head?: { readonly name: string; readonly time: string; readonly schema: readonly string[] };
  /** Metres in a unit of length, every one that the file uses. */
  readonly metres?: readonly number[];
  /** Types that the judge has no declaration of. */
  readonly others?: readonly string[];
}

/** The judge of solids in STEP: tests/reference/stepSolid.py, no modeller. */
export const stepSolids = judgeOf('./stepSolid.py', ['scipy', 'numpy']);

/** What the judge finds in each of some texts. */
export const judgedFiles = (texts: readonly string[]): readonly JudgedFile[] =>
  // Its answers are written by the script beside this file.
  stepSolids.ask(texts.map((text) => ({ kind: 'solid', inputs: { text } }))) as readonly JudgedFile[];
