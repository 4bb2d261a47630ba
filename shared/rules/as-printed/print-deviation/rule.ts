import type { Spec } from '../../../spec/spec.ts';
import { printTolerance } from '../../../trade/print/print-tolerance.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** The usual bureau statement: 0.1 mm, or 0.2 % of the length. */
const tolerance = { floor: 1e-4, lengthShare: 0.002 };
/** Points below which a 95 % point says little: ten beyond it. */
const fewest = 200;
const most = 1e9;
/** One-sided 95 %. */
const coverage = 1.65;

/** Shape of each printed piece: 95 % point of the sizes of the deviations of its own scan. */
export const printDeviation = defineRule({
  id: 'print-deviation',
  gate: 'as-printed',
  title: 'Limit the deviation of a printed piece from its model',
  severity: 'block',
  adjustable: false,
  branches: ['printedPieces'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'P95 of |deviation| <= max(0.1 mm, 0.2 % of the longest side)',
  source: { document: 'common practice, no source', trust: 'practice', note: 'usual bureau tolerance of a length' },
  validity: 'Statistics of the own scan of the piece, at least 200 points over all of it. A best fit hides a shift.',
  hazard: 'A warped piece is forced into line: the joints gap, the flange carries the strain, and clearances go.',
  remedy: 'Look at the map of deviations; scale or relieve and print again, or take the shape into the fit-up.',
  messages: {
    datum: 'Allowed {allowed} on {length}; aligned to the datum faces.',
    fitted: 'Allowed {allowed} on {length}; aligned by best fit, which hides a shift of the whole piece.',
  },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'printedPieces'>[] =>
    spec.printedPieces.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const length = at<number>(`printedPieces.${row.id}.longest`, row.longest);
    return {
      length,
      allowed: derive({ length }, (v) => printTolerance.evaluate({ ...v, ...tolerance })),
      size: at<number>(`printedPieces.${row.id}.size95`, row.size95),
      points: at<number>(`printedPieces.${row.id}.scanPoints`, row.scanPoints),
      alignment: at(`printedPieces.${row.id}.alignment`, row.alignment),
      uncertainty: at<number>(`printedPieces.${row.id}.scanUncertainty`, row.scanUncertainty),
    };
  },
  evaluate: ({ length, allowed, size, points, alignment, uncertainty }): Outcome => {
    if (points < fewest) {
      const range: readonly [number, number] = [fewest, most];
      const input = 'points of the piece scan';
      return { status: 'unknown', why: { reason: 'outOfValidity', input, value: points, range, unit: 'count' } };
    }
    return judge(size, {
      limit: { kind: 'max', value: allowed },
      guard: coverage * uncertainty + 0.05 * allowed,
      message: alignment === 'datum-faces' ? 'datum' : 'fitted',
      data: { allowed, length },
    });
  },
});
