import { MeshSink } from '../../server/measure/readers/mesh/mesh-sink.ts';
import { readStepMesh } from '../../server/measure/readers/mesh/step-mesh.ts';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';

/** Reads a STEP text by the modeller that part files are read with. */
export async function stepMesh(text: string): Promise<TriangleMesh> {
  const sink = new MeshSink({ unitFactor: 1, maxTriangles: 1_000_000 });
  await readStepMesh(new TextEncoder().encode(text), sink);
  return sink.finish('vertex', 1);
}
