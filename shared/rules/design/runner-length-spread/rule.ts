import { lengthSpread } from '../../../quantities/lengthSpread.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** How far the lengths of the runners lie apart. */
export const runnerLengthSpread = defineRule({
  id: 'runner-length-spread',
  gate: 'design',
  title: 'Limit the spread of runner lengths',
  severity: 'advise',
  adjustable: 'max',
  branches: ['runners'],
  cost: 'cheap',
  quantity: 'share',
  limit: '(longest - shortest) / mean <= 10 %',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'equal-length limits are not proven for turbo headers; +-5 % is usual for an equal-length one',
  },
  validity: 'Centreline from port to collector inlet; port length inside the head is not in it.',
  hazard:
    'Uneven lengths shift the pulses against each other and feed the turbine unevenly; one cylinder may run hotter.',
  remedy: 'Lengthen the shortest runner or shorten the longest.',
  messages: {
    ends: 'Longest {longestName} {longest:length}, shortest {shortestName} {shortest:length}.',
  },
  since: 1,
  subjects: (spec): readonly Subject[] =>
    spec.runners.length === 0 ? [] : [{ kind: 'job', id: 'header', name: 'All runners' }],
  reads: (context) => ({ lengths: lengthSpread(context) }),
  evaluate: ({ lengths }) => {
    if (!lengths) return { status: 'notApplicable', because: 'there is only one runner' };
    const { spread, ...ends } = lengths;
    return judge(spread, { limit: { kind: 'max', value: 0.1 }, message: 'ends', data: ends });
  },
});
