import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import { printBuild, printerSettings } from '../../../quantities/printBuild.ts';
import type { Spec } from '../../../spec/spec.ts';
import { buildTime as timeOf } from '../../../trade/print/build-time.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** All printed pieces in one build, against the longest that the bureau runs in one go. */
export const buildTime = defineRule({
  id: 'build-time',
  gate: 'print-release',
  title: 'Limit the time of the build',
  severity: 'advise',
  adjustable: false,
  branches: ['pieces', 'printer', 'route'],
  cost: 'measured',
  quantity: 'duration',
  limit: 'scan + recoat + overhead of all pieces in one build <= longest build of the bureau (caution only)',
  source: {
    document: 'Gibson, Rosen, Stucker, Additive Manufacturing Technologies',
    clause: 'eq. 16.7 and 16.8',
    trust: 'excerpt',
  },
  validity:
    'All pieces with their copies in one build; supports at 25 % metal, which is their upper end. Good to 20 % where efficiency and recoat time were taken from a build.',
  hazard: 'A build that runs out of time, gas or filter is stopped, and a layer cooled in between is a seam.',
  remedy: 'Lower the tallest piece, split the build in two, or ask for a thicker layer.',
  messages: { parts: 'Melting {scan}, {layers:count} layers {recoat}, the rest {overhead}. Pieces: {pieces:count}.' },
  since: 3,
  subjects: (spec: Spec): readonly Subject[] =>
    piecesToPrint(spec).length > 0 ? [{ kind: 'job', id: 'build', name: 'Build' }] : [],
  reads: (context) => {
    const { printer } = context.spec;
    return {
      build: printBuild(context),
      ...printerSettings(printer),
      longest: at<number>('printer.longest', printer.longest),
    };
  },
  evaluate: ({ build, longest, ...printer }): Outcome => {
    const { partVolume, supportVolume, height, pieces } = build;
    const time = timeOf({ ...printer, partVolume, supportVolume, height });
    if (!time.known) return { status: 'unknown', why: time.why };
    const { layers, recoat, scan, total } = time.value;
    return judge(total, {
      limit: { kind: 'max', value: longest },
      guard: 0.2 * total,
      message: 'parts',
      data: { layers, recoat, scan, overhead: printer.overhead, pieces },
    });
  },
});
