import { travelOffHead } from '../../../quantities/access.ts';
import type { Spec } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Travel beyond the end of the studs, m (own: the flange must come clear of them and of the gasket). */
const more = 0.005;
const header: Subject = { kind: 'job', id: 'header', name: 'Header' };

/** Straight travel of the header off its studs. */
export const installPath = defineRule({
  id: 'install-path',
  gate: 'design',
  title: 'Require a straight way onto the studs',
  severity: 'block',
  adjustable: false,
  branches: ['tools', 'runners', 'tube', 'flange', 'pieces', 'components', 'datums', 'route'],
  cost: 'measured',
  quantity: 'length',
  limit: 'free travel along the studs >= stick-out + 5 mm',
  source: { document: 'own: the flange must pass the ends of the studs', trust: 'own' },
  validity:
    'All runners and pieces moved together, straight, without tilt, against the points of all scans as scanned. Loose lines may be tied away; the scan holds them where they were.',
  hazard:
    'A header that does not come straight on is forced on: bent studs, a torn gasket, and a car that is taken apart again.',
  remedy: 'Move the runner at the witness, shorten the studs, or state in the concession what is taken off first.',
  messages: { need: 'Studs stand out by {stickOut}; the header may travel {free}.' },
  since: 3,
  subjects: (spec: Spec): readonly Subject[] => (spec.runners.length > 0 && spec.components.length > 0 ? [header] : []),
  reads: (context) => ({
    travel: travelOffHead(context, more),
    stickOut: at<number>('tools.stickOut', context.spec.tools.stickOut),
  }),
  evaluate: ({ travel, stickOut }) => {
    const { free, point, onPart } = travel;
    return judge(free, {
      limit: { kind: 'min', value: stickOut + more },
      message: 'need',
      data: { stickOut, free },
      ...(point && { witness: { at: point, ...(onPart && { to: onPart }) } }),
    });
  },
});
