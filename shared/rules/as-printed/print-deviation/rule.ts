import type { DeviationResult } from '../../../geometry/deviationMeasurement.ts';
import { measuredDeviation } from '../../../quantities/pieceDeviation.ts';
import type { Spec } from '../../../spec/spec.ts';
import { printTolerance } from '../../../trade/print/print-tolerance.ts';
import { at, derive, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { inMicrometres } from '../../micrometres.ts';
import { type Judgement, judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** The usual bureau statement: 0.1 mm, or 0.2 % of the length. */
const tolerance = { floor: 1e-4, lengthShare: 0.002 };
/** Points below which a 95 % point says little: ten beyond it. */
const fewest = 200;
const most = 1e9;
/** One-sided 95 %. */
const coverage = 1.65;

/** Shape of each printed piece: 95 % point of the sizes of the deviations of its own scan, measured here or as its report has it. */
export const printDeviation = defineRule({
  id: 'print-deviation',
  gate: 'as-printed',
  title: 'Limit the deviation of a printed piece from its model',
  severity: 'block',
  adjustable: false,
  branches: ['printedPieces', 'pieces'],
  cost: 'measured',
  quantity: 'length',
  limit: 'P95 of |deviation| <= max(0.1 mm, 0.2 % of the longest side)',
  source: { document: 'common practice, no source', trust: 'practice', note: 'usual bureau tolerance of a length' },
  validity: 'Statistics of the own scan of the piece, at least 200 points over all of it. A best fit hides a shift.',
  hazard: 'A warped piece is forced into line: the joints gap, the flange carries the strain, and clearances go.',
  remedy: 'Look at the map of deviations; scale or relieve and print again, or take the shape into the fit-up.',
  messages: {
    datum: 'Allowed {allowed} on {length}; aligned to the datum faces.',
    fitted: 'Allowed {allowed} on {length}; aligned by best fit, which hides a shift of the whole piece.',
    datumMeasured:
      'Allowed {allowed} on {length}; {count:count} points where they lie: mean {mean}, one sigma {sigma}, largest {largest}.',
    fittedMeasured:
      'Allowed {allowed} on {length}; {count:count} points after a best fit ({before} before it): mean {mean}, one sigma {sigma}, largest {largest}.',
  },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'printedPieces'>[] =>
    spec.printedPieces.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => {
    const length = at<number>(`printedPieces.${row.id}.longest`, row.longest);
    // A scan that is named is compared with the model; without one the report of the scan is taken as it is typed.
    const scan = row.scan === undefined ? known(null) : measuredDeviation(context, row);
    const typed = <T>(key: 'size95' | 'scanPoints', value: T | undefined) =>
      row.scan === undefined ? at<T>(`printedPieces.${row.id}.${key}`, value) : known<T | null>(null);
    return {
      length,
      allowed: derive({ length }, (v) => printTolerance.evaluate({ ...v, ...tolerance })),
      scan,
      size: typed<number>('size95', row.size95),
      points: typed<number>('scanPoints', row.scanPoints),
      alignment: at(`printedPieces.${row.id}.alignment`, row.alignment),
      uncertainty: at<number>(`printedPieces.${row.id}.scanUncertainty`, row.scanUncertainty),
    };
  },
  evaluate: ({ length, allowed, scan, size, points, alignment, uncertainty }): Outcome => {
    const compared = scan?.compared ?? points ?? 0;
    if (compared < fewest) {
      const range: readonly [number, number] = [fewest, most];
      const input = 'points of the piece scan';
      return { status: 'unknown', why: { reason: 'outOfValidity', input, value: compared, range, unit: 'count' } };
    }
    const way = alignment === 'datum-faces' ? 'datum' : 'fitted';
    return judge(scan?.size95 ?? size ?? Number.NaN, {
      limit: { kind: 'max', value: allowed },
      guard: coverage * uncertainty + 0.05 * allowed,
      ...(scan ? said(scan, { way, allowed, length }) : { message: way, data: { allowed, length } }),
    });
  },
});

interface Said {
  readonly way: 'datum' | 'fitted';
  readonly allowed: number;
  readonly length: number;
}

/** What a comparison found, and where it is worst. */
function said(scan: DeviationResult, { way, allowed, length }: Said): Pick<Judgement, 'message' | 'data' | 'witness'> {
  const { compared, mean, deviation, largest, before, at: place } = scan;
  const found = { count: compared, mean: inMicrometres(mean), sigma: inMicrometres(deviation), largest };
  return {
    message: `${way}Measured`,
    data: { allowed, length, ...found, ...(way === 'fitted' && { before: before.size95 }) },
    witness: { at: place },
  };
}
