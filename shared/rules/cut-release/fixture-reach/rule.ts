import { isFabricated } from '../../../quantities/cutPieces.ts';
import { endFromPorts } from '../../../quantities/runnerSway.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Whether the fixture that holds flange and collector reaches the end of each runner. */
export const fixtureReach = defineRule({
  id: 'fixture-reach',
  gate: 'cut-release',
  title: 'Limit how far a runner ends from the flange to what the fixture reaches',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'cutting', 'route'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'distance from the middle of the ports to the runner end <= stated reach of the fixture',
  source: { document: 'own: geometry; the reach is that of the fixture at hand', trust: 'own' },
  validity:
    'Distance only: whether the fixture can turn to the angle, and stands clear of the torch, is seen on the mock-up.',
  hazard: 'A runner end that nothing holds is tacked by eye; the collector then misses the turbine flange.',
  remedy: 'Take a longer arm, or bring the collector nearer to the flange.',
  messages: { reach: 'Collector end of the runner, from the middle of the ports.' },
  since: 1,
  subjects: (spec) => (isFabricated(spec) ? runnerSubjects(spec) : []),
  reads: (context, { runner }) => ({
    away: endFromPorts(context, runner),
    reach: at<number>('cutting.fixtureReach', context.spec.cutting.fixtureReach),
  }),
  evaluate: ({ away, reach }) => judge(away, { limit: { kind: 'max', value: reach }, message: 'reach' }),
});
