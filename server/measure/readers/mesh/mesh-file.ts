import type { TriangleMesh } from '../../../../shared/geometry/mesh/triangleMesh.ts';
import type { ReadProblem } from '../problem.ts';

/** How a mesh file was written. */
export type MeshFormat =
  | 'stl-binary'
  | 'stl-ascii'
  | 'ply-ascii'
  | 'ply-binary-le'
  | 'ply-binary-be'
  | 'obj'
  | '3mf'
  | 'glb'
  | 'step';

/** How to read: metres in one unit of the file where the file does not say (3MF, GLB and STEP do), and limits lower than the usual. */
export interface MeshReadOptions {
  readonly unitFactor: number;
  readonly maxTriangles?: number;
}

/** A mesh as read, metres. Equal vertices of formats that repeat them (STL) have been joined; nothing else was changed. */
export interface ReadMesh {
  readonly mesh: TriangleMesh;
  readonly format: MeshFormat;
  /** Metres in one unit of the file, as used. */
  readonly unitFactor: number;
  /** Whether the file itself states that unit. */
  readonly unitStated: boolean;
}

/** The mesh, or why it was refused. */
export type MeshOutcome =
  | { readonly ok: true; readonly read: ReadMesh }
  | { readonly ok: false; readonly problem: ReadProblem };
