import { existsSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import type { Motion } from '../shared/geometry/motion.ts';
import type { ScanFitResult } from '../shared/geometry/scanFitMeasurement.ts';
import type { MeasurePool } from './measure/pool.ts';
import type { MeasureService } from './measure/service.ts';
import { type ScanGrids, scanKey } from './scans.ts';

/** A scan that was uploaded. */
export interface NamedScan {
  readonly name: string;
  readonly sha256: string;
  readonly unit: string;
}

/** What laying scans on others needs. */
export interface ScanFitsOptions<S extends NamedScan> {
  readonly pool: Pick<MeasurePool, 'run'>;
  /** Where a measurement stands; starts it when it is new. */
  readonly ask: MeasureService['request'];
  readonly grids: ScanGrids;
  /** Reads a scan into its grid file. */
  readonly readScan: (
    scan: S,
  ) => Promise<{ readonly kind: 'read' } | { readonly kind: 'problem'; readonly message: string }>;
}

/** Where a fit stands; `motion` is of the moving scan from where it lies on the car. */
type Stand =
  | { readonly state: 'pending' }
  | { readonly state: 'done'; readonly motion: Motion; readonly result: Omit<ScanFitResult, 'motion'> }
  | { readonly state: 'failed'; readonly reason: string };

/** A scan, and what names it where it lies on the car. */
interface OnCar<S> {
  readonly scan: S;
  readonly name: string;
}

/** Lays scans on others as HTTP asks for it. */
export class ScanFitter<S extends NamedScan> {
  private readonly options: ScanFitsOptions<S>;
  private copies = 0;

  constructor(options: ScanFitsOptions<S>) {
    this.options = options;
  }

  readonly ask = async (moving: OnCar<S>, onto: OnCar<S>): Promise<Stand> => {
    await this.ready(moving.scan);
    await this.ready(onto.scan);
    const stand = this.options.ask({ kind: 'scanFit', scans: [moving.name, onto.name] });
    if (stand.state === 'waiting') return { state: 'pending' };
    if (stand.state === 'failed') return { state: 'failed', reason: stand.problem.message };
    const { motion, ...result } = stand.result;
    return { state: 'done', motion, result };
  };

  readonly copy = async (scan: S, motion: Motion): Promise<string> => {
    const scanFile = await this.ready(scan);
    const out = `${scanFile}.moved-${process.pid}-${this.copies++}`;
    const make = () => this.options.pool.run({ kind: 'moveScan', scanFile, motion, out });
    let made = await make();
    // What is damaged is made again from what was uploaded, once.
    if (!made.ok && made.problem.code === 'bad-grid-file') {
      await this.read(scan);
      made = await make();
    }
    if (made.ok) return out;
    await rm(out, { force: true });
    throw new Error(`scan ${scan.name}: ${made.problem.message}`);
  };

  /** The grid file of a scan, read anew when it is gone or of another version. */
  private async ready(scan: S): Promise<string> {
    const file = this.options.grids.file(scanKey(scan));
    if (!existsSync(file)) await this.read(scan);
    return file;
  }

  private async read(scan: S): Promise<void> {
    const reading = await this.options.readScan(scan);
    if (reading.kind === 'problem') throw new Error(`scan ${scan.name}: ${reading.message}`);
  }
}
