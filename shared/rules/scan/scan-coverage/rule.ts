import { measuredCoverage } from '../../../quantities/scanFigures.ts';
import type { Spec } from '../../../spec/spec.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** How much of the bay's surface around the runners has been scanned. */
export const scanCoverage = defineRule({
  id: 'scan-coverage',
  gate: 'scan',
  title: 'Require the bay around the header to be scanned',
  severity: 'block',
  adjustable: 'min',
  branches: ['components', 'datums', 'runners', 'tube', 'flange'],
  uncovered: ['runners', 'tube', 'flange'],
  cost: 'measured',
  quantity: 'share',
  limit: 'scanned / (scanned + gaps) of the surface seen from the runners within 60 mm >= 90 %',
  source: {
    document: 'common practice, no source; the estimate is our own',
    trust: 'practice',
    note: 'a place without points is unknown, never clear; cells of 2 to 5 mm are usual for telling one from the other',
  },
  validity:
    'Tells gaps of 10 to 40 mm in surfaces that go on straight. A side that was never scanned, or a wider gap, reads as free space.',
  hazard: 'What the scanner did not see reads as free: the runner is drawn through a bracket that is really there.',
  remedy: 'Scan the place shown again: from another side, matted, with what hides it moved away.',
  messages: { share: '{open} of the looks out of the runners end in the open within 60 mm; look at those by eye.' },
  since: 2,
  subjects: (spec: Spec): readonly Subject[] =>
    spec.runners.length === 0 || spec.components.length === 0
      ? []
      : [{ kind: 'job', id: 'bay', name: 'Bay around the header' }],
  reads: (context) => ({ coverage: measuredCoverage(context) }),
  evaluate: ({ coverage: { seen, gap, open, at } }): Outcome => {
    if (!(seen > 0)) {
      const detail = 'expected scanned surface within 60 mm of a runner, found none';
      return { status: 'unknown', why: { reason: 'inconsistent', detail, paths: ['components'] } };
    }
    const how = { limit: { kind: 'min', value: 0.9 }, message: 'share', data: { open }, guard: 0.02 } as const;
    return judge(seen / (seen + gap), at ? { ...how, witness: { at } } : how);
  },
});
