import type { Element } from '../spec/spec.ts';
import { percentile } from '../trade/metrology/deviation-statistics.ts';
import { moved, rigidFit } from '../trade/metrology/rigid-fit.ts';
import { minus, norm, type Vec } from '../trade/metrology/vector.ts';
import { at, derive, type Known, known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** How the scan lies on the car by its datum points. Lengths in metres. */
export interface Registration {
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
  readonly name: string;
  readonly scan: Vec;
  readonly car: Vec;
}

/** Closed-form rigid fit of the datum points of the scan onto those of the car. Fewer than three, or three in line: inconsistent. */
export function registration(context: FactContext): Known<Registration> {
  const { datums } = context.spec;
  return context.memo('registration', [datums], () => {
    const pairs = Object.fromEntries(datums.map((row) => [row.id, pairOf(row)]));
    return derive(pairs, (found) => fitted(Object.values(found)));
  });
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
    (v): Pair => ({ name: row.name ?? row.id, scan: [v.sx, v.sy, v.sz], car: [v.cx, v.cy, v.cz] }),
  );
}

function fitted(pairs: readonly Pair[]): Known<Registration> {
  const fit = rigidFit(
    pairs.map((pair) => pair.scan),
    pairs.map((pair) => pair.car),
  );
  return derive({ fit }, (v): Known<Registration> => {
    const { residuals, scale } = v.fit;
    const largest = Math.max(...residuals);
    const worst = pairs[residuals.indexOf(largest)];
    return known({
      count: pairs.length,
      residual: percentile(
        [...residuals].sort((a, b) => a - b),
        0.95,
      ),
      worst: worst?.name ?? '',
      worstAt: worst?.car ?? [0, 0, 0],
      worstResidual: largest,
      shift: Math.max(...pairs.map(({ scan }) => norm(minus(moved(v.fit, scan), scan)))),
      scale,
    });
  });
}
