import { isFabricated, shortestStraight } from '../../../quantities/cutPieces.ts';
import { straightBetweenBends } from '../../../trade/data/bend-practice.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Shortest straight between two bends of a runner, against what saw or bender needs. */
export const straightMinimum = defineRule({
  id: 'straight-minimum',
  gate: 'cut-release',
  title: 'Require enough straight between the bends of a runner',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'cutting', 'tube', 'route'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'cut and weld >= 10 mm; drawn on a bender >= 1 outside diameter',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: '10 mm for saw, purge and looking inside; benders clamp 1 to 2 diameters',
  },
  validity:
    'Straights between bends; the ends are held by flange and collector. The clamp of the bender at hand may ask for more.',
  hazard:
    'Two bends too near cannot be clamped or sawn square, and the weld between them cannot be purged or looked at.',
  remedy: 'Move the nodes apart, or make both bends one.',
  messages: { needs: 'Shortest straight of the runner; {method} asks for {need}.' },
  since: 1,
  subjects: (spec) => (isFabricated(spec) ? runnerSubjects(spec) : []),
  reads: (context, { runner }) => ({
    shortest: shortestStraight(context, runner),
    method: at('cutting.method', context.spec.cutting.method),
    outsideDiameter: at<number>('tube.outsideDiameter', context.spec.tube.outsideDiameter),
  }),
  evaluate: ({ shortest, method, outsideDiameter }) => {
    if (shortest === null) return { status: 'notApplicable', because: 'the runner has fewer than two bends' };
    const { clampDiameters, cutAndWeld } = straightBetweenBends;
    const need = method === 'rotary-draw' ? clampDiameters[0] * outsideDiameter : cutAndWeld;
    return judge(shortest, {
      limit: { kind: 'min', value: need },
      guard: 0.05 * need,
      message: 'needs',
      data: { method, need },
    });
  },
});
