import type { Element } from '../spec/spec.ts';
import { percentile } from '../trade/metrology/deviation-statistics.ts';
import { moved, type RigidFit, rigidFit } from '../trade/metrology/rigid-fit.ts';
import { minus, norm, type Vec } from '../trade/metrology/vector.ts';
import { at, derive, type Known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** A datum point after the fit; metres. */
export interface DatumResidual {
  /** Id of its row. */
  readonly id: string;
  /** Distance left between where the fit puts it and where it was measured on the car. */
  readonly residual: number;
}

/** How the scan lies on the car by its datum points. Lengths in metres. */
export interface Registration {
  /** Every datum point, in the order of the rows. */
  readonly pairs: readonly DatumResidual[];

  readonly count: number;
  /** 95th percentile of the distances left after the best rigid motion, and the datum with the largest. */
  readonly residual: number;
  readonly worst: string;
  readonly worstAt: Vec;
  readonly worstResidual: number;
  /** Farthest that the motion moves a datum point: 0 when the scan lies where the car is. */
  readonly shift: number;
  /** Scale that a fit with scale would choose; far from 1 the unit is wrong. It is never applied. */
  readonly scale: number;
}

/** A datum point in the scan and on the car. */
interface Pair {
  readonly id: string;
  readonly scan: Vec;
  readonly car: Vec;
}

/** Closed-form rigid fit of the datum points of the scan onto those of the car. Fewer than three, or three in line: inconsistent. */
export function registration(context: Pick<FactContext, 'spec' | 'memo'>): Known<Registration> {
  const { datums } = context.spec;
  // Asked for outside: a sweep forgets what is asked for only while something else is made.
  const [pairs, fit] = [datumPairs(context), datumFit(context)];
  return context.memo('registration', [datums, pairs, fit], () =>
    derive({ pairs, fit }, (v) => ({
      ...described(v.pairs, v.fit),
      worst: nameOf(datums, v.fit.residuals),
    })),
  );
}

/** The motion of the scan onto the car by the datum points. Fewer than three, or three in line: inconsistent. */
export function datumFit(context: Pick<FactContext, 'spec' | 'memo'>): Known<RigidFit> {
  const pairs = datumPairs(context);
  return context.memo('datum-fit', [pairs], () =>
    derive({ pairs }, (v) =>
      rigidFit(
        v.pairs.map((pair) => pair.scan),
        v.pairs.map((pair) => pair.car),
      ),
    ),
  );
}

function datumPairs(context: Pick<FactContext, 'spec' | 'memo'>): Known<readonly Pair[]> {
  const { datums } = context.spec;
  return context.memo('datum-pairs', [datums], () =>
    derive(Object.fromEntries(datums.map((row) => [row.id, pairOf(row)])), (found) => Object.values(found)),
  );
}

function pairOf(row: Element<'datums'>): Known<Pair> {
  const path = `datums.${row.id}`;
  return derive(
    {
      sx: at<number>(`${path}.scanX`, row.scanX),
      sy: at<number>(`${path}.scanY`, row.scanY),
      sz: at<number>(`${path}.scanZ`, row.scanZ),
      cx: at<number>(`${path}.carX`, row.carX),
      cy: at<number>(`${path}.carY`, row.carY),
      cz: at<number>(`${path}.carZ`, row.carZ),
    },
    (v): Pair => ({ id: row.id, scan: [v.sx, v.sy, v.sz], car: [v.cx, v.cy, v.cz] }),
  );
}

/** Name of the datum point with the largest residual. */
function nameOf(datums: readonly Element<'datums'>[], residuals: readonly number[]): string {
  const row = datums[residuals.indexOf(Math.max(...residuals))];
  return row?.name ?? row?.id ?? '';
}

function described(pairs: readonly Pair[], fit: RigidFit): Omit<Registration, 'worst'> {
  const { residuals, scale } = fit;
  const largest = Math.max(...residuals);
  const worst = pairs[residuals.indexOf(largest)];
  return {
    pairs: pairs.map(({ id }, i) => ({ id, residual: residuals[i] ?? Number.NaN })),
    count: pairs.length,
    residual: percentile(
      [...residuals].sort((a, b) => a - b),
      0.95,
    ),
    worstAt: worst?.car ?? [0, 0, 0],
    worstResidual: largest,
    shift: Math.max(...pairs.map(({ scan }) => norm(minus(moved(fit, scan), scan)))),
    scale,
  };
}
