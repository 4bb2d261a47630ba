import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { rename } from 'node:fs/promises';
import type { ExportFormat } from '../shared/protocol/http.ts';
import { nothingMeasured } from '../shared/quantities/context.ts';
import { headerSolid, type SolidMakings } from '../shared/quantities/headerSolid.ts';
import { whyWords } from '../shared/rules/words.ts';
import type { Spec } from '../shared/spec/spec.ts';
import type { HeaderFile } from './http/parts.ts';
import type { MeasurePool } from './measure/pool.ts';
import type { MeshFiles } from './parts.ts';

/** The whole header as one closed solid in a file; kept by what it is made of. */
export function headerFiles(pool: Pick<MeasurePool, 'run'>, files: MeshFiles) {
  let made = 0;
  return async (spec: Spec, format: ExportFormat): Promise<HeaderFile> => {
    const makings = headerSolid(spec, nothingMeasured);
    if (!makings.known) return { kind: 'problem', message: whyWords(makings.why) };
    const meshFile = files.file(`whole-${nameOf(makings.value)}`);
    if (!existsSync(meshFile)) {
      // Beside its place: two who ask at once must not write one file.
      const out = `${meshFile}.${process.pid}-${made++}`;
      const { tubes, bore, pieces } = makings.value;
      const parts = pieces.map(({ name, mesh }) => ({ name, meshFile: files.file(mesh) }));
      const united = await pool.run({ kind: 'unite', tubes, bore, parts, out });
      if (!united.ok) return { kind: 'problem', message: united.problem.message };
      await rename(out, meshFile);
    }
    const exported = await pool.run({ kind: 'exportMesh', meshFile, format });
    return exported.ok
      ? { kind: 'made', bytes: exported.result.bytes }
      : { kind: 'problem', message: exported.problem.message };
  };
}

const nameOf = (makings: SolidMakings): string => createHash('sha256').update(JSON.stringify(makings)).digest('hex');
