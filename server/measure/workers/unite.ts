import { triangleCount } from '../../../shared/geometry/mesh/triangleMesh.ts';
import type { Attempt, UnitedSolid, UniteJob } from '../jobs.ts';
import { writeMeshFile } from '../mesh-file.ts';
import { unitedParts, unitedTubes } from '../solid/united.ts';
import { meshIn } from './inputs.ts';
import { builtTubes } from './tubes.ts';

/** Makes one solid and writes its mesh. @throws MeshFileError, ReadFailure */
export async function unite({ parts, tubes, bore, out }: UniteJob): Promise<Attempt<UnitedSolid>> {
  const built = builtTubes(tubes);
  if (!built.ok) return built;
  const made =
    parts.length > 0
      ? await unitedParts(parts.map(({ name, meshFile }) => ({ name, mesh: meshIn(meshFile) })))
      : await unitedTubes(built.tubes.map((tube) => ({ ...tube, innerRadius: bore / 2 })));
  if (!made.ok) return made;
  writeMeshFile(out, made.result);
  return { ok: true, result: { triangles: triangleCount(made.result) } };
}
