import { rename, rm } from 'node:fs/promises';
import { scanUnits } from '../shared/protocol/http.ts';
import type { MeasurePool } from './measure/pool.ts';
import { metresPer } from './metres.ts';
import type { MeshFiles } from './parts.ts';
import type { Blobs } from './storage/ports.ts';

/** What reading a part again needs. */
export interface MeshRemakerOptions {
  readonly pool: Pick<MeasurePool, 'run'>;
  readonly blobs: Pick<Blobs, 'localFile'>;
  readonly files: MeshFiles;
}

/** Makes the mesh file of a part again from the part as it was uploaded, by the name of its mesh, `<sha256>-<unit>`; false when it cannot. */
export function meshRemaker({ pool, blobs, files }: MeshRemakerOptions): (name: string) => Promise<boolean> {
  let reads = 0;
  return async (name) => {
    const [, sha = '', word] = /^([0-9a-f]{64})-(\w+)$/.exec(name) ?? [];
    const unit = scanUnits.find((one) => one === word);
    const file = unit && (await blobs.localFile(sha));
    if (!unit || file === undefined) return false;
    // Beside its place under a name of its own: two jobs may miss the same mesh at once.
    const out = `${files.file(name)}.again-${process.pid}-${reads++}`;
    const made = await pool.run({ kind: 'readMesh', file, unitFactor: metresPer(unit), out });
    if (!made.ok) {
      await rm(out, { force: true });
      return false;
    }
    await rename(out, files.file(name));
    return true;
  };
}
