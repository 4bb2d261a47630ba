import type { Bend, Centreline } from '../geometry/centreline.ts';
import type { Runner, Spec } from '../spec/spec.ts';
import { bestCutPlan, bestFitDecreasing } from '../trade/tube/cutting-stock.ts';
import { formatSi } from '../units/format.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import { runnerCentreline } from './centreline.ts';
import type { FactContext } from './context.ts';

/** Straights shorter than this are not cut, and radii nearer than this are the same stock, metres. */
const nothing = 1e-6;
/** A bend is cut from a stock bend of this radius at most so far off, metres. */
export const radiusSlack = 0.5e-3;
/** Search steps for the best plan before the quick one stands. */
const effort = 2000;

/** Whether the header may be cut from stock: true unless it is only printed. */
export function isFabricated(spec: Spec): boolean {
  return spec.route.made !== 'printed';
}

/** Lengths of the straights of a runner, from port to collector, metres; a straight without length is 0 between two bends. */
function straights(line: Centreline): readonly number[] {
  const out = [0];
  for (const piece of line.pieces) {
    if (piece.kind === 'arc') out.push(0);
    else out[out.length - 1] = (out.at(-1) ?? 0) + piece.length;
  }
  return out;
}

/** Shortest straight between two bends of a runner, metres; null with fewer than two bends. */
export function shortestStraight(context: FactContext, runner: Runner): Known<number | null> {
  return derive({ line: runnerCentreline(context, runner) }, ({ line }): Known<number | null> => {
    const between = straights(line).slice(1, -1);
    return known(between.length > 0 ? Math.min(...between) : null);
  });
}

/** Radii on the shelf by row; inconsistent when there is none. */
export function stockRadii(context: FactContext): Known<readonly number[]> {
  const { stockBends } = context.spec;
  return context.memo('stock-radii', [stockBends], () => {
    if (stockBends.length === 0) {
      const detail = 'expected at least one kind of stock bend to cut from, got none';
      return unknown({ reason: 'inconsistent', detail, paths: ['stockBends'] });
    }
    const radii = stockBends.map((row) => [row.id, at<number>(`stockBends.${row.id}.radius`, row.radius)] as const);
    return derive(Object.fromEntries(radii), (v): Known<readonly number[]> => known(Object.values(v)));
  });
}

/** How far a bend is from the nearest stock radius, metres, with the row of its node from 1. */
export interface OddBend {
  readonly off: number;
  readonly node: number;
  readonly radius: number;
}

/** The bend of a runner that is farthest from any stock radius; null when it has no bend. */
export function oddestBend(context: FactContext, runner: Runner): Known<OddBend | null> {
  const line = runnerCentreline(context, runner);
  const radii = stockRadii(context);
  return context.memo(`odd-bend/${runner.id}`, [line, radii], () =>
    derive({ line, radii }, (v): Known<OddBend | null> => {
      const bends = v.line.bends.map(({ node, radius }): OddBend => {
        return { off: Math.min(...v.radii.map((stock) => Math.abs(stock - radius))), node: node + 1, radius };
      });
      return known(bends.reduce<OddBend | null>((a, b) => (a && a.off >= b.off ? a : b), null));
    }),
  );
}

/** One kind of stock: pieces of stock needed and on the shelf, and how many pieces are cut from it. */
export interface StockUse {
  readonly stock: string;
  readonly needed: number;
  readonly there: number;
  readonly pieces: number;
}

/** Use of the straight tube and of each kind of stock bend by all runners, saw cuts counted; the tube comes first. */
export function stockUses(context: FactContext): Known<readonly [StockUse, ...StockUse[]]> {
  const { runners, cutting, stockBends } = context.spec;
  const { tubeLength, tubeCount, kerf } = cutting;
  return context.memo('stock-uses', [runners, stockBends, tubeLength, tubeCount, kerf], () =>
    derive(
      {
        lines: allLines(context),
        length: at<number>('cutting.tubeLength', tubeLength),
        there: at<number>('cutting.tubeCount', tubeCount),
        kerf: at<number>('cutting.kerf', kerf),
        shelves: shelvesOf(context),
      },
      ({ lines, length, there, shelves, ...saw }) => {
        const tube = {
          size: length,
          path: 'cutting.tubeLength',
          quantity: 'length',
          name: 'straight tube',
          there,
        } as const;
        const bends = lines.flatMap((line) => line.bends);
        const cut = shelves.map(
          (shelf) => [shelf.path, use(shelf, anglesFor(shelf, bends), saw.kerf / shelf.radius)] as const,
        );
        const others = derive(Object.fromEntries(cut), (v): Known<readonly StockUse[]> => known(Object.values(v)));
        const first = use(tube, lines.flatMap(straights), saw.kerf);
        return derive(
          { first, others },
          (v): Known<readonly [StockUse, ...StockUse[]]> => known([v.first, ...v.others]),
        );
      },
    ),
  );
}

interface Stock {
  readonly size: number;
  readonly path: string;
  readonly quantity: 'length' | 'angle';
  readonly name: string;
  readonly there: number;
}
interface Shelf extends Stock {
  readonly radius: number;
}

function shelvesOf(context: FactContext): Known<readonly Shelf[]> {
  const rows = context.spec.stockBends.map((row) => {
    const path = `stockBends.${row.id}`;
    const cells = {
      radius: at<number>(`${path}.radius`, row.radius),
      size: at<number>(`${path}.angle`, row.angle),
      there: at<number>(`${path}.count`, row.count),
    };
    const shelf = derive(
      cells,
      (v): Known<Shelf> => known({ ...v, path: `${path}.angle`, quantity: 'angle', name: row.name ?? row.id }),
    );
    return [row.id, shelf] as const;
  });
  return derive(Object.fromEntries(rows), (v): Known<readonly Shelf[]> => known(Object.values(v)));
}

const anglesFor = ({ radius }: Shelf, bends: readonly Bend[]): readonly number[] =>
  bends.filter((bend) => Math.abs(bend.radius - radius) <= radiusSlack).map((bend) => bend.angle);

/** Fewest stock pieces: the best plan within the search effort, else a quick one that may take one too many. */
function use({ size, path, quantity, name, there }: Stock, all: readonly number[], kerf: number): Known<StockUse> {
  const pieces = all.filter((piece) => piece > nothing);
  const longest = Math.max(0, ...pieces);
  if (longest > size * (1 + 1e-12)) {
    const detail = `expected pieces of at most the stock, ${formatSi(quantity, size)}, got one of ${formatSi(quantity, longest)}`;
    return unknown({ reason: 'inconsistent', detail, paths: [path] });
  }
  const job = { stock: size, pieces: pieces.map((piece) => Math.min(piece, size)), kerf };
  const best = bestCutPlan(job, effort);
  const found = best.known ? best : bestFitDecreasing(job);
  return derive(
    { found },
    (v): Known<StockUse> => known({ stock: name, needed: v.found.length, there, pieces: pieces.length }),
  );
}

function allLines(context: FactContext): Known<readonly Centreline[]> {
  const lines = context.spec.runners.map((runner) => [runner.id, runnerCentreline(context, runner)] as const);
  return derive(Object.fromEntries(lines), (v): Known<readonly Centreline[]> => known(Object.values(v)));
}
