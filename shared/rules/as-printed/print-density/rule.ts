import type { Spec } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Least density of a witness. */
const least = 0.995;
/** One-sided 95 %. */
const coverage = 1.65;

/** Density of each witness printed with the header. */
export const printDensity = defineRule({
  id: 'print-density',
  gate: 'as-printed',
  title: 'Require dense print witnesses',
  severity: 'block',
  adjustable: 'min',
  branches: ['witnesses'],
  cost: 'cheap',
  quantity: 'share',
  limit: 'density of the witness >= 99.5 %',
  source: { document: 'common practice, no source', trust: 'practice', note: 'printed 625 for pressure parts' },
  validity: 'Witness of the same build, alloy and layer, by section or by weighing in water. Not the part itself.',
  hazard: 'Pores join up to a leak path in a thin wall, and cracks start from them under heat.',
  remedy: 'Do not weld the piece; find the fault of powder, gas flow or laser, and print it again or press it hot.',
  messages: { pores: 'Pores {pores}, uncertainty {reach} (95 %).' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'witnesses'>[] =>
    spec.witnesses.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => ({
    density: at<number>(`witnesses.${row.id}.density`, row.density),
    uncertainty: at<number>(`witnesses.${row.id}.densityUncertainty`, row.densityUncertainty),
  }),
  evaluate: ({ density, uncertainty }) => {
    const reach = coverage * uncertainty;
    return judge(density, {
      limit: { kind: 'min', value: least },
      // A limit from practice: 5 % of the pores it allows.
      guard: reach + 0.05 * (1 - least),
      message: 'pores',
      data: { pores: 1 - density, reach },
    });
  },
});
