import type { Spec } from '../../../spec/spec.ts';
import { printTolerance } from '../../../trade/print/print-tolerance.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { inMicrometres } from '../../micrometres.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** The usual bureau statement: 0.1 mm, or 0.2 % of the length. */
const tolerance = { floor: 1e-4, lengthShare: 0.002 };
/** One-sided 95 %. */
const coverage = 1.65;

/** Thinnest place of each printed wall against its nominal. */
export const wallMeasured = defineRule({
  id: 'wall-measured',
  gate: 'as-printed',
  title: 'Require printed walls of their nominal thickness',
  severity: 'block',
  adjustable: false,
  branches: ['printedWalls'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'thinnest reading >= nominal - 0.1 mm',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'usual bureau tolerance, +/- 0.1 mm or 0.2 % of the length',
  },
  validity: 'Walls of printed pieces, by ultrasonic gauge, section or computed tomography; rough skin reads thicker.',
  hazard: 'A wall that is too thin bulges and cracks under heat and pressure, and burns through when it is welded.',
  remedy: 'Measure round the place; scrap the piece, or check the strength again with the wall it has.',
  messages: { nominal: 'Nominal {nominal}, tolerance {allowed}, uncertainty {reach} (95 %).' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'printedWalls'>[] =>
    spec.printedWalls.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const nominal = at<number>(`printedWalls.${row.id}.nominal`, row.nominal);
    return {
      nominal,
      allowed: derive({ nominal }, (v) => printTolerance.evaluate({ length: v.nominal, ...tolerance })),
      thinnest: at<number>(`printedWalls.${row.id}.thinnest`, row.thinnest),
      uncertainty: at<number>(`printedWalls.${row.id}.wallUncertainty`, row.wallUncertainty),
    };
  },
  evaluate: ({ nominal, allowed, thinnest, uncertainty }) => {
    const reach = coverage * uncertainty;
    return judge(thinnest, {
      limit: { kind: 'min', value: nominal - allowed },
      guard: reach + 0.05 * allowed,
      message: 'nominal',
      data: { nominal, allowed, reach: inMicrometres(reach) },
    });
  },
});
