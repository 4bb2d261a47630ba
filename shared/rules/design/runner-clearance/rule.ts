import { runnerGap } from '../../../quantities/runnerGap.ts';
import type { Runner, Spec } from '../../../spec/spec.ts';
import { known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf } from '../../subjects.ts';
import type { Subject } from '../../verdict.ts';

interface RunnerPair extends Subject {
  readonly a: Runner;
  readonly b: Runner;
}

function pairs(spec: Spec): readonly RunnerPair[] {
  return spec.runners.flatMap((a, i) =>
    spec.runners.slice(i + 1).map((b) => ({
      kind: 'runner-pair',
      id: `${a.id}~${b.id}`,
      name: `${nameOf(a)} x ${nameOf(b)}`,
      a,
      b,
    })),
  );
}

/** Smallest wall-to-wall gap between two runners ahead of the merge. */
export const runnerClearance = defineRule({
  id: 'runner-clearance',
  gate: 'design',
  title: 'Require clearance between runners ahead of the merge',
  severity: 'block',
  adjustable: 'min',
  branches: ['runners', 'tube', 'collector'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'wall gap >= 6 mm outside the merge length',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'room for growth and a saw or cable; 20 to 25 mm where a joint must be torched',
  },
  validity: 'Cold, straight from the node tables to 1 um; growth of one runner against another is not counted.',
  hazard: 'Runners that touch rub through or crack at the contact as they grow at different rates.',
  remedy: 'Move the nodes beside the witness apart, or lengthen the merge if the runners are meant to meet there.',
  messages: { nearest: 'Nearest {s} from the port of the first runner.' },
  since: 1,
  subjects: pairs,
  reads: (context, { a, b }) => ({ nearest: runnerGap(context, a, b), runner: known(a.id) }),
  evaluate: ({ nearest, runner }) =>
    judge(nearest.gap, {
      limit: { kind: 'min', value: 6e-3 },
      message: 'nearest',
      data: { s: nearest.s },
      witness: { at: nearest.at, to: nearest.to, runner, s: nearest.s },
    }),
});
