import { isFabricated, oddestBend, radiusSlack } from '../../../quantities/cutPieces.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Radius of each runner's bends against the stock bends they are cut from. */
export const bendStockRadius = defineRule({
  id: 'bend-stock-radius',
  gate: 'cut-release',
  title: 'Require every bend of a runner to have the radius of a stock bend',
  severity: 'block',
  adjustable: 'max',
  branches: ['runners', 'stockBends', 'route'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'distance from the nearest stock radius <= 0.5 mm',
  source: { document: 'own: what a cut end may miss its neighbour by before the step shows in the bore', trust: 'own' },
  validity: 'Centreline radius as bought; how round and how true stock bends are is not in it.',
  hazard:
    'A bend that is not on the shelf is found at the saw: the runner is forced, steps in the bore or misses the port.',
  remedy: 'Set the bend radius to one of the stock radii and look at clearance and length again.',
  messages: { farthest: 'Bend at node {node:count} has a radius of {radius}.' },
  since: 1,
  subjects: (spec) => (isFabricated(spec) ? runnerSubjects(spec) : []),
  reads: (context, { runner }) => ({ oddest: oddestBend(context, runner) }),
  evaluate: ({ oddest }) => {
    if (!oddest) return { status: 'notApplicable', because: 'the runner has no bend' };
    return judge(oddest.off, {
      limit: { kind: 'max', value: radiusSlack },
      message: 'farthest',
      data: { node: oddest.node, radius: oddest.radius },
    });
  },
});
