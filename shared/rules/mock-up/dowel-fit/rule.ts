import type { Spec } from '../../../spec/spec.ts';
import { dowelFit as classFit, type FitClearance } from '../../../trade/clamp/dowel-fit.ts';
import type { DowelHole } from '../../../trade/data/dowel-bands.ts';
import { at, derive, type Known, known, unknown } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { inMicrometres } from '../../micrometres.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Clearance of a dowel in a socket printed in plastic, on the diameter, m. */
const printed: Readonly<Record<'filament' | 'resin', FitClearance>> = {
  filament: { least: 0.2e-3, greatest: 0.3e-3 },
  resin: { least: 0.1e-3, greatest: 0.2e-3 },
};
/** Dowels the allowance for printed sockets is for, m. */
const printedDowels: readonly [number, number] = [4e-3, 6e-3];
/** One-sided 95 %. */
const coverage = 1.65;

/** Clearance that belongs to a dowel of this size in a hole made this way. */
function wanted(made: DowelHole | keyof typeof printed, diameter: number): Known<FitClearance> {
  if (made !== 'filament' && made !== 'resin') return classFit(diameter, made);
  if (diameter >= printedDowels[0] && diameter <= printedDowels[1]) return known(printed[made]);
  const input = 'dowel diameter';
  return unknown({ reason: 'outOfValidity', input, value: diameter, range: printedDowels, unit: 'length' });
}

/** Measured clearance of each dowel of mock-up or fixture against the class or allowance it was made to. */
export const dowelFit = defineRule({
  id: 'dowel-fit',
  gate: 'mock-up',
  title: 'Require a dowel clearance that locates and still goes together',
  severity: 'block',
  adjustable: false,
  branches: ['dowels'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'hole less pin: H7, H8, F8 with an m6 dowel by ISO 286-2; printed socket 0.2 to 0.3 mm, resin 0.1 to 0.2 mm',
  source: {
    document: 'ISO 286-2 (m6, H7, H8 read in an excerpt, F8 from memory); printed sockets: common practice',
    trust: 'memory',
    note: 'the allowance is for dowels of 4 to 6 mm',
  },
  validity: 'Steel m6 dowels up to 10 mm at room temperature; printed sockets for 4 to 6 mm, as printed or reamed.',
  hazard: 'A loose dowel lets the mock-up sit wrong and the header is built to it; a tight one splits the piece.',
  remedy: 'Ream a tight socket; for a loose one print the piece again or bush it.',
  messages: { wanted: 'Clearance {clearance}, wanted {least} to {greatest}.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'dowels'>[] =>
    spec.dowels.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const made = at(`dowels.${row.id}.made`, row.made);
    const diameter = at<number>(`dowels.${row.id}.diameter`, row.diameter);
    return {
      least: derive({ made, diameter }, (v) => derive({ fit: wanted(v.made, v.diameter) }, ({ fit }) => fit.least)),
      greatest: derive({ made, diameter }, (v) =>
        derive({ fit: wanted(v.made, v.diameter) }, ({ fit }) => fit.greatest),
      ),
      hole: at<number>(`dowels.${row.id}.hole`, row.hole),
      pin: at<number>(`dowels.${row.id}.pin`, row.pin),
      uncertainty: at<number>(`dowels.${row.id}.fitUncertainty`, row.fitUncertainty),
    };
  },
  evaluate: ({ least, greatest, hole, pin, uncertainty }) =>
    judge(hole - pin, {
      limit: { kind: 'range', low: least, high: greatest },
      guard: coverage * uncertainty,
      message: 'wanted',
      data: {
        clearance: inMicrometres(hole - pin),
        least: inMicrometres(least),
        greatest: inMicrometres(greatest),
      },
    }),
});
