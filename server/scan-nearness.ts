import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { crc32 } from 'node:zlib';
import { NEARNESS_FAR } from '../shared/geometry/nearness.ts';
import { type TileIndex, tilesOf } from '../shared/geometry/tiles.ts';
import type { AskedNearness } from '../shared/protocol/nearness.ts';
import type { Spec } from '../shared/spec/spec.ts';
import type { HeaderAbout } from './measure/jobs.ts';
import type { MeasurePool } from './measure/pool.ts';
import { aboutScan } from './nearness-header.ts';

/** Bytes of answers kept (own: a dozen edits of a scan of 5 million points). */
const MOST_BYTES = 64 * 1024 ** 2;

/** What names a scan. */
export interface NamedScan {
  readonly sha256: string;
  readonly unit: string;
}

/** Which header a scan is held against, and how the scan lies. */
export interface NearnessWish {
  readonly project: string;
  readonly spec: Spec;
  readonly placed: 'as-uploaded' | 'by-datums';
}

export interface NearnessOptions<S extends NamedScan> {
  /** Starts a thread of its own when first asked for: a field takes longer than the clearance of a dragged node may wait. */
  readonly pool: () => Pick<MeasurePool, 'run'>;
  readonly scanFile: (scan: S) => string;
  readonly meshFile: (name: string) => string;
  readonly tiles: (scan: S) => Promise<{ readonly index: TileIndex }>;
  /** Reads a scan into its grid file. */
  readonly readScan: (scan: S) => Promise<unknown>;
  /** Reads a part into its mesh file; false when it cannot. */
  readonly remakeMesh: (name: string) => Promise<boolean>;
}

interface Wanted<S> {
  readonly name: string;
  readonly scan: S;
  readonly about: HeaderAbout;
}

interface Made {
  readonly scan: string;
  readonly levels: Uint8Array;
  readonly tiles: readonly string[];
}

/** How near points of scans are to headers: one at a time, of each scan only the newest, kept under the name of what it was made of. */
export class NearnessShelf<S extends NamedScan> {
  private readonly options: NearnessOptions<S>;
  private pool: Pick<MeasurePool, 'run'> | undefined;
  /** The answer used last at the end. */
  private readonly made = new Map<string, Made>();
  /** Told once each, then tried anew. */
  private readonly failed = new Map<string, string>();
  /** By project, scan and placing: what a newer header has overtaken is not begun. */
  private readonly waiting = new Map<string, Wanted<S>>();
  private running: string | undefined;
  /** Meshes whose file was gone: being read again, or there is nothing to read. */
  private readonly gone = new Map<string, 'reading' | 'nothing'>();

  constructor(options: NearnessOptions<S>) {
    this.options = options;
  }

  readonly ask = (scan: S, { project, spec, placed }: NearnessWish): AskedNearness => {
    const header = aboutScan(spec, placed, (mesh) => this.hasMesh(mesh));
    if (!header.ok) return { state: 'none', why: header.why };
    if ([...this.gone.values()].includes('reading')) return { state: 'pending' };
    const { about, leftOut } = header;
    const name = nameOf(scan, about);
    const there = this.made.get(name);
    if (there) {
      this.made.delete(name);
      this.made.set(name, there);
      return { state: 'there', name, cap: about.cap, tiles: [...there.tiles], leftOut: [...leftOut] };
    }
    const why = this.failed.get(name);
    if (this.failed.delete(name)) return { state: 'none', why: why ?? '' };
    if (this.running !== name) this.waiting.set(`${project} ${keyOf(scan)} ${placed}`, { name, scan, about });
    this.next();
    return { state: 'pending' };
  };

  /** A name opens the scan it was made of and no other. */
  readonly levels = (scan: NamedScan, name: string): Uint8Array | undefined => {
    const there = this.made.get(name);
    return there?.scan === keyOf(scan) ? there.levels : undefined;
  };

  /** Counts as there while it is being read again; a part that was never brought is not. */
  private hasMesh(mesh: string): boolean {
    const { meshFile, remakeMesh } = this.options;
    if (existsSync(meshFile(mesh))) this.gone.delete(mesh);
    else if (!this.gone.has(mesh)) {
      this.gone.set(mesh, 'reading');
      void remakeMesh(mesh)
        .catch(() => false)
        .then((made) => (made ? this.gone.delete(mesh) : this.gone.set(mesh, 'nothing')));
    }
    return this.gone.get(mesh) !== 'nothing';
  }

  private next(): void {
    const [first] = this.waiting;
    if (this.running !== undefined || !first) return;
    const [key, wanted] = first;
    this.waiting.delete(key);
    this.running = wanted.name;
    void this.make(wanted)
      .then(
        (made) => this.keep(wanted.name, made),
        (error: unknown) => this.failed.set(wanted.name, error instanceof Error ? error.message : String(error)),
      )
      .finally(() => {
        this.running = undefined;
        this.next();
      });
  }

  private async make({ scan, about }: Wanted<S>): Promise<Made> {
    const { tiles, scanFile, readScan, remakeMesh } = this.options;
    const { index } = await tiles(scan);
    if (!existsSync(scanFile(scan))) await readScan(scan);
    let outcome = await this.run(scan, about);
    // What is damaged is made again from what was uploaded, once.
    if (!outcome.ok && outcome.problem.code === 'bad-grid-file') {
      await readScan(scan);
      outcome = await this.run(scan, about);
    } else if (!outcome.ok && outcome.problem.code === 'bad-mesh-file') {
      for (const mesh of about.meshes) await remakeMesh(mesh);
      outcome = await this.run(scan, about);
    }
    if (!outcome.ok) throw new Error(outcome.problem.message);
    const { levels } = outcome.result;
    if (index.points !== levels.length) throw new Error(`expected ${index.points} points, got ${levels.length}`);
    let at = 0;
    const sums = tilesOf(index).map(({ count }) => {
      at += count;
      return sumOf(levels.subarray(at - count, at));
    });
    return { scan: keyOf(scan), levels, tiles: sums };
  }

  private run(scan: S, about: HeaderAbout) {
    this.pool ??= this.options.pool();
    const meshFiles = Object.fromEntries(about.meshes.map((mesh) => [mesh, this.options.meshFile(mesh)]));
    return this.pool.run({ kind: 'nearness', scanFile: this.options.scanFile(scan), meshFiles, ...about });
  }

  private keep(name: string, made: Made): void {
    this.made.set(name, made);
    let bytes = [...this.made.values()].reduce((sum, { levels }) => sum + levels.length, 0);
    for (const [oldest, { levels }] of this.made) {
      if (bytes <= MOST_BYTES || oldest === name) return;
      this.made.delete(oldest);
      bytes -= levels.length;
    }
  }
}

const keyOf = ({ sha256, unit }: NamedScan): string => `${sha256}-${unit}`;

const nameOf = (scan: NamedScan, about: HeaderAbout): string =>
  createHash('sha256')
    .update(JSON.stringify([keyOf(scan), about]))
    .digest('hex')
    .slice(0, 32);

/** Names a tile's levels; '' for one with nothing within the cap, which need not be sent. */
const sumOf = (levels: Uint8Array): string =>
  levels.every((level) => level === NEARNESS_FAR) ? '' : crc32(levels).toString(16).padStart(8, '0');
