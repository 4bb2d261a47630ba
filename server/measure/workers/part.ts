import { threeMfBytes } from '../../../shared/geometry/mesh/export3mf.ts';
import { glbBytes } from '../../../shared/geometry/mesh/exportGlb.ts';
import { plyBytes } from '../../../shared/geometry/mesh/exportPly.ts';
import { stlBytes } from '../../../shared/geometry/mesh/exportStl.ts';
import { rotationOfTurns } from '../../../shared/geometry/mesh/fixedTurns.ts';
import { repaired } from '../../../shared/geometry/mesh/repair.ts';
import { turnedMesh } from '../../../shared/geometry/mesh/rotation.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { boxOf, triangleCount, vertexCount } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { weldVertices } from '../../../shared/geometry/mesh/weld.ts';
import type {
  Attempt,
  ExportedMesh,
  ExportFormat,
  ExportMeshJob,
  MendedMesh,
  MendMeshJob,
  PartReport,
  ReadMeshJob,
} from '../jobs.ts';
import { writeMeshFile } from '../mesh-file.ts';
import { readAnyMesh } from '../readers/mesh/mesh-file.ts';
import { meshIn } from './inputs.ts';

/** Reads a part file and writes its mesh. STEP takes as long as it takes: whoever runs this task ends the thread when it is too long. */
export async function readPart({ file, unitFactor, out }: ReadMeshJob): Promise<Attempt<PartReport>> {
  const outcome = await readAnyMesh(file, { unitFactor });
  if (!outcome.ok) return outcome;
  const { mesh: raw, ...report } = outcome.read;
  // Some programs write a vertex for each corner: unless equal ones are one, every edge reads as open.
  const { mesh } = weldVertices(raw);
  const bounds = boxOf(mesh) ?? { least: [0, 0, 0], greatest: [0, 0, 0] };
  writeMeshFile(out, mesh);
  return { ok: true, result: { ...report, triangles: triangleCount(mesh), vertices: vertexCount(mesh), bounds } };
}

/** Vertices nearer than this are one, metres (own: a twentieth of the smallest detail that can be printed). */
const NEAR = 1e-5;

/** Makes a mended copy as a file. Holes stay open and crossings stay: how they are to be closed is not in the mesh. @throws MeshFileError, ReadFailure */
export function mendPart({ meshFile }: MendMeshJob): MendedMesh {
  const steps = { weld: NEAR, dropDegenerate: true, dropDuplicate: true, orient: true };
  const { mesh, account } = repaired(meshIn(meshFile), steps);
  return { bytes: plyBytes(mesh), account };
}

const writers: { readonly [F in ExportFormat]: (mesh: TriangleMesh) => Uint8Array<ArrayBuffer> } = {
  stl: stlBytes,
  '3mf': threeMfBytes,
  glb: glbBytes,
  ply: plyBytes,
};

/** Makes a file of a mesh. @throws MeshFileError, ReadFailure */
export function exportPart({ meshFile, format, turn }: ExportMeshJob): ExportedMesh {
  const mesh = meshIn(meshFile);
  return { bytes: writers[format](turn ? onPlate(turnedMesh(mesh, rotationOfTurns(turn))) : mesh) };
}

function onPlate({ positions, indices }: TriangleMesh): TriangleMesh {
  const lowest = boxOf({ positions, indices })?.least[2] ?? 0;
  return { positions: positions.map((x, i) => (i % 3 === 2 ? x - lowest : x)), indices };
}
