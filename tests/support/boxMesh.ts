import { boxMesh as boxOfSize } from '../../shared/geometry/mesh/shapes.fixture.ts';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import { subtract, type Vec3 } from '../../shared/geometry/vector.ts';

/** A closed box between two corners, twelve triangles that look outwards; metres. */
export const boxMesh = (least: Vec3, greatest: Vec3): TriangleMesh => boxOfSize(subtract(greatest, least), least);
