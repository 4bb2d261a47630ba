import type { MeasureJob, MeasureKind, MeasureProblem, MeasureResult } from '../../shared/geometry/measurement.ts';
import { jobKey, meshesOf, scansOf } from '../../shared/geometry/measurement.ts';
import type { MeasurePool } from './pool.ts';
import type { ResultCache } from './result-cache.ts';
import { fileCache } from './result-cache.ts';
import type { KeptResult } from './result-shapes.ts';

/** Results kept in memory and in the cache file (own: some 300 bytes each). */
const MOST_RESULTS = 20_000;
/**
 * Kinds that take longer than a person waits for a dragged node. They give way to the others, and never take the last free thread from
 * them: a clearance after an edit must not stand behind a look at the whole bay.
 */
const SLOW: { readonly [K in MeasureKind]: boolean } = {
  clearance: false,
  scanExtents: false,
  scanSpacing: true,
  scanCoverage: true,
  deviation: true,
  scanFit: true,
  meshReport: true,
  pose: true,
  poseSearch: true,
  thinnestWall: true,
  innerGap: true,
  enclosed: true,
  boreTilt: true,
  partGap: true,
  toolReach: true,
  straightOff: true,
  torchReach: true,
};
/** Slow kinds that a person waits for in front of a part or a scan: they come before the other slow ones, which fill in the list of checks. */
const LOOKED_AT: ReadonlySet<MeasureKind> = new Set(['meshReport', 'poseSearch', 'scanFit']);

/** Jobs of turn 0 come first. */
function turnOf(kind: MeasureKind): 0 | 1 | 2 {
  if (!SLOW[kind]) return 0;
  return LOOKED_AT.has(kind) ? 1 : 2;
}

/** How often a job is tried whose worker dies or throws; a problem that the worker names is final at once. */
const ATTEMPTS = 2;

/** Where a measurement of a kind stands. */
export type MeasureState<K extends MeasureKind = MeasureKind> =
  | { readonly state: 'waiting' }
  | { readonly state: 'done'; readonly result: MeasureResult<K> }
  | { readonly state: 'failed'; readonly problem: MeasureProblem };

/** Told once about every job that ends, by its key. */
export type ResultListener = (key: string, state: Exclude<MeasureState, { state: 'waiting' }>) => void;

/** Measures by content: the same job is measured once, however often and by whomever it is asked for. */
export interface MeasureService {
  /** Where a job stands now; starts it when it is new. */
  readonly request: <J extends MeasureJob>(job: J) => MeasureState<J['kind']>;
  /**
   * Where a key stands, without starting anything; undefined for a key never asked for, or dropped.
   * K is the kind of the job that the key names, for the caller to know.
   */
  readonly lookup: <K extends MeasureKind>(key: string) => MeasureState<K> | undefined;
  /** Adds a listener; call what it gives to remove it. */
  readonly onResult: (listener: ResultListener) => () => void;
  /** Drops every job that has not started and whose key is not among these; gives the number dropped. A dropped job may be asked for again. */
  readonly keepOnly: (keys: Iterable<string>) => number;
  /** Forgets all failures, so that the next request tries again: for when a scan has been read anew or a person asks. */
  readonly forgetFailures: () => void;
  /** Jobs not started and running, results kept, damaged lines passed over in the cache file. */
  readonly counts: () => {
    readonly queued: number;
    readonly running: number;
    readonly kept: number;
    readonly damaged: number;
  };
  /** Resolves when nothing is queued or running and the cache file is written; rejects when that could not be written. */
  readonly idle: () => Promise<void>;
}

/** What the service works with. */
export interface MeasureServiceOptions {
  readonly pool: Pick<MeasurePool, 'run' | 'threads'>;
  /** The grid file of a scan, by the SHA-256 of the scan's content. */
  readonly scanFile: (sha: string) => string;
  /** The mesh file of a part, by its name `<sha256>-<unit>`. */
  readonly meshFile: (name: string) => string;
  /** Reads a part again, by the name of its mesh, when a mesh file is gone or cannot be used; false when it could not. Tried once a job. */
  readonly remakeMesh?: (name: string) => Promise<boolean>;
  /** Where results are kept across restarts; nowhere when left out. */
  readonly cacheFile?: string;
  /** Most results kept. */
  readonly maxResults?: number;
  /**
   * Runs something after a pause; what it gives takes that back. With it, slow kinds start only once nothing new has been asked for during
   * a pause: while a node is dragged they would be overtaken at every step. Without it they start as soon as there is room.
   */
  readonly afterPause?: (run: () => void) => () => void;
  /** Told what a listener threw. Without it the error ends the process, as any uncaught one: it is a bug. */
  readonly onListenerError?: (error: unknown) => void;
}

/** Starts the service, with the results of earlier runs if it has a cache file. */
export async function createMeasureService(options: MeasureServiceOptions): Promise<MeasureService> {
  const most = options.maxResults ?? MOST_RESULTS;
  const cache = options.cacheFile === undefined ? undefined : fileCache(options.cacheFile, most);
  const loaded = await cache?.load();
  return new Measurements({ ...options, most, cache, kept: new Map(loaded?.results), damaged: loaded?.damaged ?? 0 });
}

interface Parts extends MeasureServiceOptions {
  readonly most: number;
  readonly cache: ResultCache | undefined;
  readonly kept: Map<string, KeptResult>;
  readonly damaged: number;
}

class Measurements implements MeasureService {
  private readonly parts: Parts;
  private readonly queue = new Map<string, MeasureJob>();
  private readonly running = new Map<string, MeasureKind>();
  private readonly failures = new Map<string, MeasureProblem>();
  private readonly listeners = new Set<ResultListener>();
  private readonly sleepers: (() => void)[] = [];
  /** Set while a pause has not passed. */
  private cancelPause: (() => void) | undefined;

  constructor(parts: Parts) {
    this.parts = parts;
  }

  readonly request = <J extends MeasureJob>(job: J): MeasureState<J['kind']> => {
    const key = jobKey(job);
    const known = this.lookup<J['kind']>(key);
    if (known) return known;
    this.queue.set(key, job);
    this.waitForPause();
    this.startNext();
    return { state: 'waiting' };
  };

  readonly lookup = <K extends MeasureKind>(key: string): MeasureState<K> | undefined => {
    const kept = this.parts.kept.get(key);
    // The kind is part of what a key is made from, so the result under it is of the kind of its job.
    if (kept) return { state: 'done', result: kept.result as MeasureResult<K> };
    const problem = this.failures.get(key);
    if (problem) return { state: 'failed', problem };
    return this.queue.has(key) || this.running.has(key) ? { state: 'waiting' } : undefined;
  };

  readonly onResult = (listener: ResultListener): (() => void) => {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  readonly keepOnly = (keys: Iterable<string>): number => {
    const wanted = new Set(keys);
    let dropped = 0;
    for (const key of this.queue.keys()) {
      if (wanted.has(key)) continue;
      this.queue.delete(key);
      dropped++;
    }
    this.wakeIfIdle();
    return dropped;
  };

  readonly forgetFailures = (): void => {
    this.failures.clear();
  };

  readonly counts = () => ({
    queued: this.queue.size,
    running: this.running.size,
    kept: this.parts.kept.size,
    damaged: this.parts.damaged,
  });

  readonly idle = async (): Promise<void> => {
    while (this.queue.size + this.running.size > 0) await new Promise<void>((wake) => this.sleepers.push(wake));
    const failure = await this.parts.cache?.flush();
    if (failure) throw failure;
  };

  private waitForPause(): void {
    this.cancelPause?.();
    this.cancelPause = this.parts.afterPause?.(() => {
      this.cancelPause = undefined;
      this.startNext();
    });
  }

  /** A job goes to the pool only when a thread is free for it, so that everything else can still be dropped. */
  private startNext(): void {
    for (const turn of [0, 1, 2])
      for (const [key, job] of this.queue) {
        if (this.running.size >= this.parts.pool.threads) return;
        if (turnOf(job.kind) !== turn || (turn > 0 && !this.roomForSlow())) continue;
        this.queue.delete(key);
        this.running.set(key, job.kind);
        void this.work(key, job).then((state) => this.finish({ key, kind: job.kind }, state));
      }
  }

  private roomForSlow(): boolean {
    const slow = [...this.running.values()].filter((kind) => SLOW[kind]).length;
    return this.cancelPause === undefined && slow < Math.max(1, this.parts.pool.threads - 1);
  }

  private async work(key: string, job: MeasureJob): Promise<Exclude<MeasureState, { state: 'waiting' }>> {
    let reason = '';
    for (let attempt = 1; attempt <= ATTEMPTS; attempt++) {
      try {
        const scanFiles = Object.fromEntries(scansOf(job).map((scan) => [scan, this.parts.scanFile(scan)]));
        const meshFiles = Object.fromEntries(meshesOf(job).map((mesh) => [mesh, this.parts.meshFile(mesh)]));
        const outcome = await this.parts.pool.run({ kind: 'measure', job, scanFiles, meshFiles });
        if (!outcome.ok && outcome.problem.code === 'bad-mesh-file' && attempt < ATTEMPTS && (await this.remade(job)))
          continue;
        return outcome.ok ? { state: 'done', result: outcome.result } : { state: 'failed', problem: outcome.problem };
      } catch (error) {
        reason = error instanceof Error ? error.message : String(error);
      }
    }
    const message = `Expected a measurement, its worker failed ${ATTEMPTS} times: ${reason} (job ${key.slice(0, 12)}).`;
    return { state: 'failed', problem: { code: 'worker-failed', message } };
  }

  /** Whether the parts that a job measures have been read again. */
  private async remade(job: MeasureJob): Promise<boolean> {
    const { remakeMesh } = this.parts;
    if (!remakeMesh) return false;
    for (const mesh of meshesOf(job)) if (!(await remakeMesh(mesh))) return false;
    return true;
  }

  private finish(
    { key, kind }: { readonly key: string; readonly kind: MeasureKind },
    state: Exclude<MeasureState, { state: 'waiting' }>,
  ): void {
    this.running.delete(key);
    if (state.state === 'failed') this.failures.set(key, state.problem);
    else {
      // The pool answers a job with a result of its kind.
      const kept = { kind, result: state.result } as KeptResult;
      this.parts.kept.set(key, kept);
      this.parts.cache?.append(key, kept);
    }
    forgetOldest(this.parts.kept, this.parts.most);
    forgetOldest(this.failures, this.parts.most);
    this.startNext();
    this.tell(key, state);
    this.wakeIfIdle();
  }

  /** Every listener is told, even when one throws. */
  private tell(key: string, state: Exclude<MeasureState, { state: 'waiting' }>): void {
    for (const listener of [...this.listeners]) {
      try {
        listener(key, state);
      } catch (error) {
        this.report(error);
      }
    }
  }

  private report(error: unknown): void {
    const { onListenerError } = this.parts;
    if (onListenerError) onListenerError(error);
    else {
      queueMicrotask(() => {
        throw error;
      });
    }
  }

  private wakeIfIdle(): void {
    if (this.queue.size + this.running.size === 0) for (const wake of this.sleepers.splice(0)) wake();
  }
}

/** A Map keeps its order of insertion, so its first key is the oldest. */
function forgetOldest(map: Map<string, unknown>, most: number): void {
  for (const key of map.keys()) {
    if (map.size <= most) return;
    map.delete(key);
  }
}
