import { existsSync, mkdirSync } from 'node:fs';
import { rename } from 'node:fs/promises';
import { join } from 'node:path';
import { type AskedPoses, type AskedReport, type ScanUnit, scanUnits } from '../shared/protocol/http.ts';
import type { Meshes, PartFile, PartReading } from './http/parts.ts';
import { meshFileIn } from './measure/mesh-file.ts';
import type { MeasurePool } from './measure/pool.ts';
import type { MeasureService, MeasureState } from './measure/service.ts';
import { metresPer } from './metres.ts';
import { scanKey } from './scans.ts';

/** Poses of the least support shown to choose from, besides the low ones and those of steep bores. */
const SHOWN_POSES = 6;

/** Where the triangles of a part lie, by content hash and unit as scans are named. */
export interface MeshFiles {
  file(key: string): string;
}

/** Mesh files below the data folder. */
export function meshFiles(dataDir: string): MeshFiles {
  const folder = join(dataDir, 'meshes');
  mkdirSync(folder, { recursive: true });
  return { file: (key) => meshFileIn(folder, key) };
}

export interface PartMeshesOptions {
  readonly pool: Pick<MeasurePool, 'run'>;
  /** Where a measurement stands; starts it when it is new. */
  readonly ask: MeasureService['request'];
  readonly files: MeshFiles;
}

/** The meshes of parts as HTTP needs them. */
export function partMeshes(options: PartMeshesOptions): Meshes {
  return new PartMeshes(options);
}

class PartMeshes implements Meshes {
  private readonly options: PartMeshesOptions;
  private reads = 0;

  constructor(options: PartMeshesOptions) {
    this.options = options;
  }

  async readPart(part: PartFile): Promise<PartReading> {
    const { pool, files } = this.options;
    // Beside its place under a name of its own: the same part may come twice at once, and which unit names it shows only afterwards.
    const out = `${files.file(scanKey(part))}.${process.pid}-${this.reads++}`;
    const made = await pool.run({ kind: 'readMesh', file: part.file, unitFactor: part.metresPerUnit, out });
    if (!made.ok) return { kind: 'problem', message: made.problem.message };
    const { triangles, format, unitStated, unitFactor, bounds } = made.result;
    const unit = unitStated ? namingUnit(unitFactor) : part.unit;
    await rename(out, files.file(scanKey({ ...part, unit })));
    return {
      kind: 'read',
      ...{ triangles, format, unit, unitStated },
      bounds: { min: [...bounds.least], max: [...bounds.greatest] },
    };
  }

  async exportPart(part: PartFile, { format, turn }: Parameters<Meshes['exportPart']>[1]): Promise<Uint8Array> {
    const { meshFile } = await this.ready(part);
    const made = await this.options.pool.run({ kind: 'exportMesh', meshFile, format, ...(turn && { turn }) });
    if (!made.ok) throw new Error(`part ${part.name}: ${made.problem.message}`);
    return made.result.bytes;
  }

  async mended(part: PartFile): ReturnType<Meshes['mended']> {
    const { meshFile } = await this.ready(part);
    const made = await this.options.pool.run({ kind: 'mendMesh', meshFile });
    if (!made.ok) throw new Error(`part ${part.name}: ${made.problem.message}`);
    return made.result;
  }

  async report(part: PartFile): Promise<AskedReport> {
    const { mesh } = await this.ready(part);
    const stand = this.options.ask({ kind: 'meshReport', mesh });
    return asked(stand, ({ at, ...figures }) => ({ ...figures, at: at && [...at] }));
  }

  async poses(part: PartFile, { overhang, tubes }: Parameters<Meshes['poses']>[1]): Promise<AskedPoses> {
    const { mesh } = await this.ready(part);
    const stand = this.options.ask({ kind: 'poseSearch', mesh, overhangAngle: overhang, count: SHOWN_POSES, tubes });
    return asked(stand, ({ volume, choices }) => ({
      overhang,
      volume,
      poses: choices.map(({ turn, ...figures }) => ({ turn: [...turn], ...figures })),
    }));
  }

  /** The part's mesh file, read anew when it is gone or of another version; `mesh` names it in measuring. */
  private async ready(part: PartFile): Promise<{ mesh: string; meshFile: string }> {
    const mesh = scanKey(part);
    const meshFile = this.options.files.file(mesh);
    if (!existsSync(meshFile)) {
      const reading = await this.readPart(part);
      if (reading.kind === 'problem') throw new Error(`part ${part.name}: ${reading.message}`);
    }
    return { mesh, meshFile };
  }
}

/** Names a part whose file states its unit, the same whatever unit was asked for: the file's own where scans have it, else mm. */
function namingUnit(unitFactor: number): ScanUnit {
  return scanUnits.find((unit) => metresPer(unit) === unitFactor) ?? 'mm';
}

type Asked<R> = { state: 'pending' } | { state: 'done'; result: R } | { state: 'failed'; reason: string };

function asked<K extends 'meshReport' | 'poseSearch', R>(
  stand: MeasureState<K>,
  view: (result: Extract<MeasureState<K>, { state: 'done' }>['result']) => R,
): Asked<R> {
  if (stand.state === 'waiting') return { state: 'pending' };
  if (stand.state === 'failed') return { state: 'failed', reason: stand.problem.message };
  return { state: 'done', result: view(stand.result) };
}
