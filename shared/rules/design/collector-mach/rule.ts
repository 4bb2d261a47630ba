import { outletFlow } from '../../../quantities/collectorFlow.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

interface Outlet extends Subject {
  /** Entry of a divided inlet, null the only one. */
  readonly entry: number | null;
}

const advisory = 0.4;

/** Mean Mach number in the collector outlet at peak power, of each entry of a divided inlet. */
export const collectorMach = defineRule({
  id: 'collector-mach',
  gate: 'design',
  title: 'Limit the mean Mach number in the collector outlet',
  severity: 'block',
  adjustable: 'max',
  branches: ['runners', 'engine', 'collector', 'outlet'],
  cost: 'cheap',
  quantity: 'ratio',
  limit: 'mean Mach at peak power <= 0.50, caution above 0.40',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'trade bands put turbine inlets below 0.35 and warn above 0.40; at 0.50 constant density is wrong by 13 %',
  },
  validity:
    'Mean over the cycle at peak power, gas at the stated port temperature, all of it through the turbine inlet.',
  hazard: 'A choked collector holds exhaust back on every cylinder: hot pistons, knock, and a turbine fed by a jet.',
  remedy: 'Take a larger outlet bore, as far as the turbine inlet has it.',
  messages: { speed: 'Mean gas velocity {velocity:velocity}, {share:share} of the engine.' },
  since: 1,
  subjects: ({ runners, outlet }): readonly Outlet[] => {
    if (runners.length === 0) return [];
    if (outlet.entries !== 2) return [{ kind: 'job', id: 'outlet', name: 'Collector outlet', entry: null }];
    return [1, 2].map((entry) => ({ kind: 'job', id: `entry-${entry}`, name: `Turbine entry ${entry}`, entry }));
  },
  reads: (context, { entry }) => ({
    entries: at<number>('outlet.entries', context.spec.outlet.entries),
    flow: outletFlow(context, entry),
  }),
  evaluate: ({ flow }) =>
    judge(flow.mach, {
      limit: { kind: 'max', value: 0.5 },
      advisory: { kind: 'max', value: advisory },
      // Practice: 5 % of the stricter limit.
      guard: 0.05 * advisory,
      message: 'speed',
      data: { velocity: flow.velocity, share: flow.share },
    }),
});
