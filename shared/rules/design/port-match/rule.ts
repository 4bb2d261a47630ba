import { runnerBore } from '../../../quantities/tube.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

const stepLimit = 0.5e-3;
/** Runner area over port area. */
const ratioLow = 1;
const ratioHigh = 1.15;

/** How much of what a port joint may be off is used up: step into the flow, and runner area over port area. */
export const portMatch = defineRule({
  id: 'port-match',
  gate: 'design',
  title: 'Limit the step and the change of area at the ports',
  severity: 'block',
  adjustable: 'max',
  branches: ['runners', 'tube', 'port'],
  cost: 'cheap',
  quantity: 'share',
  limit: 'step <= 0.5 mm and runner area 1.00 to 1.15 x port area: the worse of both, as a share of what is allowed',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'never a gasket or bore smaller downstream; 100 % is the edge of either limit',
  },
  validity: 'Round runners of one size on ports of one size; the step is what stands into the flow, not a recess.',
  hazard: 'An edge in the flow turns the hottest gas there is on itself: it burns off, and the pulse loses its front.',
  remedy: 'Match the flange to the port, cut the gasket back, or choose the tube whose area fits.',
  messages: { match: 'Step {step:length}, runner area {ratio:ratio} x port area.' },
  since: 1,
  subjects: ({ runners }): readonly Subject[] =>
    runners.length === 0 ? [] : [{ kind: 'job', id: 'ports', name: 'Head ports' }],
  reads: (context) => ({
    bore: runnerBore(context),
    area: at<number>('port.area', context.spec.port.area),
    step: at<number>('port.step', context.spec.port.step),
  }),
  evaluate: ({ bore, area, step }) => {
    const ratio = ((Math.PI / 4) * bore ** 2) / area;
    const middle = (ratioLow + ratioHigh) / 2;
    const used = Math.max(step / stepLimit, Math.abs(ratio - middle) / (ratioHigh - middle));
    return judge(used, { limit: { kind: 'max', value: 1 }, guard: 0.05, message: 'match', data: { step, ratio } });
  },
});
