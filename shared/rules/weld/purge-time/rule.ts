import type { Spec } from '../../../spec/spec.ts';
import { purgeTime as mixed } from '../../../trade/weld/purge-time.ts';
import { purgeTimePlugFlow } from '../../../trade/weld/purge-time-plug-flow.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Oxygen in air, by volume. */
const air = 0.209;

/** Time each purge volume needs against the time the process sheet states. */
export const purgeTime = defineRule({
  id: 'purge-time',
  gate: 'weld',
  title: 'Require a pre-purge long enough to reach the target oxygen',
  severity: 'block',
  adjustable: false,
  branches: ['purges'],
  cost: 'cheap',
  quantity: 'time',
  limit: 'time to target oxygen (well mixed x dead-leg factor) <= stated pre-purge time',
  source: {
    document: 'well-mixed dilution balance',
    trust: 'memory',
    note: 'dead-leg factor 1.5 to 3 is common practice; purge codes give no figure that was read',
  },
  validity:
    'Volume filled with air at the start, fed low and vented high, flow as stated at the inlet. An oxygen meter at the vent decides.',
  hazard: 'Air left behind the root sugars it: it cracks from the inside and sheds scale into the turbine.',
  remedy: 'State a longer pre-purge, raise the flow, cut the volume with dams or vent the dead legs.',
  messages: { turnovers: 'The stated time passes {volumes:ratio} volumes of gas; one volume takes {one}.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'purges'>[] =>
    spec.purges.map((row) => ({ kind: 'purge', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => {
    const path = `purges.${row.id}`;
    const volume = at<number>(`${path}.volume`, row.volume);
    const flow = at<number>(`${path}.flow`, row.flow);
    return {
      needed: derive(
        {
          volume,
          flow,
          target: at<number>(`${path}.target`, row.target),
          residual: at<number>(`${path}.residual`, row.residual),
          deadLegFactor: at<number>(`${path}.deadLegFactor`, row.deadLegFactor),
        },
        (v) => mixed.evaluate({ ...v, initial: air }),
      ),
      oneVolume: derive({ volume, flow }, (v) => purgeTimePlugFlow.evaluate(v)),
      stated: at<number>(`${path}.prePurge`, row.prePurge),
    };
  },
  evaluate: ({ needed, oneVolume, stated }) =>
    judge(needed, {
      limit: { kind: 'max', value: stated },
      message: 'turnovers',
      data: { volumes: stated / oneVolume, one: oneVolume },
    }),
});
