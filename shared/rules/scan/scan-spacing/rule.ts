import { measuredSpacing, nearHeader } from '../../../quantities/scanFigures.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { componentSubjects } from '../../subjects.ts';

/** Points below which a median says little of the scan near the header. */
const fewest = 30;

/** How dense the scan of each bay component is where the header comes near it. */
export const scanSpacing = defineRule({
  id: 'scan-spacing',
  gate: 'scan',
  title: 'Limit the spacing of scanned points near the header',
  severity: 'block',
  adjustable: 'max',
  branches: ['components', 'datums', 'runners', 'tube', 'flange'],
  uncovered: ['runners', 'tube', 'flange'],
  cost: 'measured',
  quantity: 'length',
  limit: 'median distance to the nearest other point, within 60 mm of a runner, <= 1.5 mm',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'a line scanner at 100 mm/s and 30 lines a second leaves 3.3 mm, at 300 lines 0.3 mm (own arithmetic)',
  },
  validity:
    'Scans of points with at least 30 within 60 mm of a runner. Passes laid over one another put neighbours nearer than the spacing of one pass.',
  hazard:
    'Between points that stand far apart a bracket or a hose clip goes unseen, and the runner is drawn through it.',
  remedy: 'Scan that side again, slower or from nearer; thin a scan to no more than 1 mm.',
  messages: { found: 'Half of {near:count} points within {reach} of a runner have a neighbour nearer than {median}.' },
  since: 2,
  subjects: componentSubjects,
  reads: (context, { component }) => ({ spacing: measuredSpacing(context, component) }),
  evaluate: ({ spacing: { near, measured, median, cover } }): Outcome => {
    if (near === 0) return { status: 'notApplicable', because: 'no point of it is within 60 mm of a runner' };
    if (cover > 0)
      return {
        status: 'notApplicable',
        because: 'it is a surface: its points are made here and say nothing of the scanner',
      };
    if (measured < fewest) {
      const range: readonly [number, number] = [fewest, 60e6];
      return {
        status: 'unknown',
        why: { reason: 'outOfValidity', input: 'points near the header', value: measured, range, unit: 'count' },
      };
    }
    return judge(median, {
      limit: { kind: 'max', value: 0.0015 },
      message: 'found',
      data: { near, median, reach: nearHeader },
    });
  },
});
