import { runnerCentreline } from '../../../quantities/centreline.ts';
import { bendTightness as tightness } from '../../../trade/tube/bend-tightness.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Tightest bend of each runner, centreline radius over outside diameter. */
export const bendTightness = defineRule({
  id: 'bend-tightness',
  gate: 'design',
  title: 'Limit how tight a runner may be bent',
  severity: 'block',
  adjustable: 'min',
  branches: ['runners', 'tube'],
  cost: 'cheap',
  quantity: 'ratio',
  limit: 'centreline radius / outside diameter >= 1.0, caution below 1.5',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'short-radius 1.0 and long-radius 1.5 elbows are stock parts',
  },
  validity: 'Round tube of one diameter; the tightest bend of a runner speaks for it.',
  hazard: 'A bend below one diameter collapses or thins when bent and chokes the pulse when printed.',
  remedy: 'Open the bend radius, or move the neighbouring nodes apart to make room for it.',
  messages: { tightest: 'Tightest bend at node {node:count}, radius {radius:length}.' },
  since: 1,
  subjects: runnerSubjects,
  reads: (context, { runner }) => ({
    tightest: derive({ line: runnerCentreline(context, runner) }, ({ line }) =>
      line.bends.reduce<(typeof line.bends)[number] | null>((a, b) => (a && a.radius <= b.radius ? a : b), null),
    ),
    outsideDiameter: at<number>('tube.outsideDiameter', context.spec.tube.outsideDiameter),
  }),
  evaluate: ({ tightest, outsideDiameter }) => {
    if (!tightest) return { status: 'notApplicable', because: 'the runner has no bend' };
    const ratio = tightness.evaluate({ radius: tightest.radius, outsideDiameter });
    if (!ratio.known) return { status: 'unknown', why: ratio.why };
    return judge(ratio.value, {
      limit: { kind: 'min', value: 1 },
      advisory: { kind: 'min', value: 1.5 },
      message: 'tightest',
      data: { node: tightest.node + 1, radius: tightest.radius },
    });
  },
});
