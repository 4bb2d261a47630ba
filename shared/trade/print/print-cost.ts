import { type Known, known } from '../../units/known.ts';
import { type Limit, outsideLimits } from '../limits.ts';

/** What a build is billed by; money in any one currency. */
export interface PrintJob {
  /** s. */
  readonly machineTime: number;
  /** Money per hour; 40 to 250 EUR (common practice). */
  readonly hourlyRate: number;
  /** Parts and supports, m3. */
  readonly solidVolume: number;
  readonly density: number;
  /** Powder bought over powder melted. */
  readonly powderLoss: number;
  /** Money per kg; 50 to 400 EUR for 625 (common practice). */
  readonly powderPrice: number;
}
/** Money. */
export interface PrintCost {
  readonly machine: number;
  readonly powder: number;
  readonly total: number;
}

const limits: Readonly<Record<keyof PrintJob, Limit>> = {
  machineTime: ['time', 0, 1e7],
  hourlyRate: ['ratio', 0, 1e5],
  solidVolume: ['volume', 0, 0.5],
  density: ['density', 1000, 2e4],
  powderLoss: ['ratio', 1, 3],
  powderPrice: ['ratio', 0, 1e5],
};

/** Machine and powder, the core of a print price; plate, heat treatment, cutting and finishing come on top. Source: own; the rates are yours. */
export function printCost(job: PrintJob): Known<PrintCost> {
  const refused = outsideLimits('print-cost', job, limits);
  if (refused) return refused;
  const machine = (job.machineTime / 3600) * job.hourlyRate;
  const powder = job.solidVolume * job.density * job.powderLoss * job.powderPrice;
  return known({ machine, powder, total: machine + powder });
}
