import { modelGap } from '../../../quantities/measuredGap.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Size error a printed mock-up may have, as a share of the runner up to the place; a rectangular spread. */
const mockUpShare = 0.005;
/** Two standard uncertainties: about 95 %. */
const coverage = 2;

/** Each clearance measured on the mock-up against what the model and the scan say. */
export const measuredVsModel = defineRule({
  id: 'measured-vs-model',
  gate: 'mock-up',
  title: 'Require measured clearances to agree with the model',
  severity: 'block',
  adjustable: false,
  branches: ['clearances', 'runners', 'components', 'datums', 'tube', 'flange', 'bay'],
  cost: 'measured',
  quantity: 'length',
  limit: '|measured - model| <= 2 x (scan, gauge and mock-up uncertainty, root of squares)',
  source: {
    document: 'own: agreement of two results within their expanded uncertainties, k = 2',
    trust: 'own',
    note: 'mock-up: 0.5 % of the runner up to the place, the tolerance of filament printing (print services), rectangular',
  },
  validity: 'Cold mock-up in the car. Judges the model, not whether the gap is large enough.',
  hazard:
    'Where model and car disagree, the scan moved or the mock-up sits wrong: every other clearance may be wrong too.',
  remedy: 'Measure again, look for a flange that does not sit flush, then align or repeat the scan.',
  messages: { both: 'Measured {measured}, model {model} at {s} along the runner.' },
  since: 1,
  subjects: ({ clearances }): readonly RowSubject<'clearances'>[] =>
    clearances.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({
    model: modelGap(context, row),
    gap: at<number>(`clearances.${row.id}.gap`, row.gap),
    gauge: at<number>(`clearances.${row.id}.uncertainty`, row.uncertainty),
    scan: at<number>('bay.scanUncertainty', context.spec.bay.scanUncertainty),
    component: at(`clearances.${row.id}.component`, row.component),
  }),
  evaluate: ({ model, gap, gauge, scan }) => {
    // A sampled surface may be nearer than its samples by up to the cover: anything in between agrees.
    const off = Math.max(gap - model.gap, model.gap - model.cover - gap, 0);
    const mockUp = (mockUpShare * model.s) / Math.sqrt(3);
    return judge(off, {
      limit: { kind: 'max', value: coverage * Math.hypot(gauge, scan, mockUp) },
      message: 'both',
      data: { measured: gap, model: model.gap, s: model.s },
      witness: { at: model.point, to: model.onTube },
    });
  },
});
