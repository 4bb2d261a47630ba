import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { benchmarkBridge } from '../../../trade/data/print-limits.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Share of the stress relief that acts before anything is cut. */
const before = { 'on-the-plate': 1, 'after-cutting': 0, none: 0 } as const;
const build: Subject = { kind: 'job', id: 'build', name: 'Build' };

/** Stress relief comes before the pieces leave the plate. */
export const reliefOrder = defineRule({
  id: 'relief-order',
  gate: 'print-release',
  title: 'Require stress relief on the plate, before cutting',
  severity: 'block',
  adjustable: false,
  branches: ['printer', 'pieces', 'route'],
  cost: 'cheap',
  quantity: 'share',
  limit: 'stress relief on the plate, before anything is cut off (100 %)',
  source: {
    document: 'ASTM F3301, thermal post-processing of laser powder-bed parts',
    clause: 'introduction: heat treatment on the plate to avoid distortion on separation',
    trust: 'excerpt',
  },
  validity:
    'Nickel alloys and stainless steel from a laser powder bed. 870 C for 1 h takes away only 39 to 63 % of the distortion.',
  hazard: 'Cut before it is relieved, a piece springs: a benchmark bridge of 75 mm rose by 1.28 mm.',
  remedy: 'Order the stress relief on the plate, and the cut after it.',
  messages: { bridge: 'Unrelieved, a bridge {length:length} long rose {rise:length} when it was cut.' },
  since: 3,
  subjects: (spec: Spec): readonly Subject[] => (piecesToPrint(spec).length > 0 ? [build] : []),
  reads: ({ spec: { printer } }) => ({ relief: at('printer.relief', printer.relief) }),
  evaluate: ({ relief }) =>
    judge(before[relief], {
      limit: { kind: 'min', value: 1 },
      // One of a list: at the limit it is not close to anything.
      guard: 0,
      message: 'bridge',
      data: { length: benchmarkBridge.length, rise: benchmarkBridge.rise625 },
    }),
});
