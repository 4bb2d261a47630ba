import { nearnessCap } from '../shared/geometry/nearness.ts';
import type { LeftOut } from '../shared/protocol/nearness.ts';
import { unmeasured } from '../shared/quantities/context.ts';
import { pieceMesh } from '../shared/quantities/pieceMesh.ts';
import { tubesAtScan } from '../shared/quantities/placing.ts';
import { datumFit } from '../shared/quantities/registration.ts';
import { tubeShape } from '../shared/quantities/tubeShapes.ts';
import { whyWords } from '../shared/rules/words.ts';
import type { Spec } from '../shared/spec/spec.ts';
import { type Known, known, unknown } from '../shared/units/known.ts';
import type { HeaderAbout } from './measure/jobs.ts';

/** The header as far as it can be held against a scan, and what of it cannot. */
export type AboutScan =
  | { readonly ok: true; readonly about: HeaderAbout; readonly leftOut: readonly LeftOut[] }
  | { readonly ok: false; readonly why: string };

/** Whether the mesh of a piece, by its name, can be looked at. */
export type MeshThere = (mesh: string) => boolean;

/** Runners and pieces in the frame of a scan that lies as uploaded or by the datum points. A runner whose bends do not fit is left out and named. */
export function aboutScan(spec: Spec, placed: 'as-uploaded' | 'by-datums', isThere: MeshThere): AboutScan {
  const context = unmeasured(spec);
  const motion = placed === 'by-datums' ? datumFit(context) : known(null);
  if (!motion.known) return { ok: false, why: whyWords(motion.why) };
  const tubes = parted(spec.runners, (runner) => tubeShape(context, runner));
  const meshes = parted(spec.pieces, (piece): Known<string> => {
    const mesh = pieceMesh(piece);
    if (!mesh.known || isThere(mesh.value)) return mesh;
    const path = `pieces.${piece.id}.mesh`;
    return unknown({ reason: 'inconsistent', detail: 'its part has not been brought to this server', paths: [path] });
  });
  const leftOut = [...tubes.leftOut, ...meshes.leftOut];
  if (tubes.found.length + meshes.found.length === 0) {
    const [first] = leftOut;
    return { ok: false, why: first ? `${first.name}: ${first.why}` : 'there are no runners and no pieces yet' };
  }
  const about = { motion: motion.value, cap: nearnessCap };
  return {
    ok: true,
    about: { ...about, tubes: tubesAtScan(tubes.found, motion.value), meshes: meshes.found },
    leftOut,
  };
}

/** What there is of some rows, and the rows of which there is nothing. */
function parted<R extends { readonly id: string; readonly name: string | undefined }, T>(
  rows: readonly R[],
  look: (row: R) => Known<T>,
): { readonly found: readonly T[]; readonly leftOut: readonly LeftOut[] } {
  const found: T[] = [];
  const leftOut: LeftOut[] = [];
  for (const row of rows) {
    const one = look(row);
    if (one.known) found.push(one.value);
    else leftOut.push({ name: row.name ?? row.id, why: whyWords(one.why) });
  }
  return { found, leftOut };
}
