import type { Spec } from '../../../spec/spec.ts';
import type { FillerAnswer } from '../../../trade/data/fillers.ts';
import { fillerChoice } from '../../../trade/weld/filler-choice.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Filler of each joint against the table of metal pairs. */
export const fillerMatch = defineRule({
  id: 'filler-match',
  gate: 'weld',
  title: 'Require a filler that suits both metals of a joint',
  severity: 'block',
  adjustable: false,
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'count',
  limit: 'rank in the table of metal pairs: 0 first choice, 1 an alternative (caution), 2 neither (fail)',
  source: {
    document: 'AWS A5.9, A5.14 and A5.16 classes; pairs from welding practice',
    trust: 'memory',
    note: 'the stainless pairs were read in filler pages; 625 to stainless is uncertain',
  },
  validity: 'Pairs of the table only. Says nothing of strength at heat or of the condition of the rod.',
  hazard: 'A wrong rod makes a brittle or crack-prone seam: it opens after some heats and blows hot gas.',
  remedy: 'Take the first choice of the table; where the pair is not to be welded, part it with a clamped joint.',
  messages: {
    rods: 'First choice {first}; others: {others}.',
    never: 'This pair is not to be fusion welded; use instead: {instead}.',
  },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => ({
    answer: derive(
      { a: at(`joints.${row.id}.metalA`, row.metalA), b: at(`joints.${row.id}.metalB`, row.metalB) },
      ({ a, b }) => fillerChoice(a, b),
    ),
    filler: at<string>(`joints.${row.id}.filler`, row.filler),
  }),
  evaluate: ({ answer, filler }) =>
    // A rank has no spread: nothing between two of them can be close.
    judge(rankOf(answer, filler), {
      limit: { kind: 'max', value: 1 },
      advisory: { kind: 'max', value: 0 },
      guard: 0,
      limitNote: answer.source.document,
      ...(answer.weld
        ? { message: 'rods', data: { first: answer.first, others: answer.others.join(', ') || 'none' } }
        : { message: 'never', data: { instead: answer.instead } }),
    }),
});

function rankOf(answer: FillerAnswer, filler: string): number {
  if (!answer.weld) return 2;
  if (answer.first === filler) return 0;
  return answer.others.includes(filler) ? 1 : 2;
}
