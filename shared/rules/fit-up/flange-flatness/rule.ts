import { measuredFace } from '../../../quantities/measuredFace.ts';
import type { Spec } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { inMicrometres } from '../../micrometres.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Flatness by what the face is, m. */
const limits = { 'whole-flange': 0.1e-3, port: 0.05e-3, 'turbine-flange': 0.05e-3 } as const;
/** Points below which a least-squares range says little. */
const fewest = 8;
/** One-sided 95 %. */
const coverage = 1.65;

/** Flatness of each machined face as measured. */
export const flangeFlatness = defineRule({
  id: 'flange-flatness',
  gate: 'fit-up',
  title: 'Limit the flatness error of a flange face',
  severity: 'block',
  adjustable: false,
  branches: ['faces', 'facePoints'],
  cost: 'cheap',
  quantity: 'length',
  limit:
    'range about the least-squares plane <= 0.05 mm for one port or the turbine face, <= 0.10 mm over the whole flange',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'with a multilayer gasket; a car maker reworks intake flanges above 0.20 mm (service data, read)',
  },
  validity: 'At least 8 points for a face, free state, cold. An upper estimate of the minimum zone of ISO 1101.',
  hazard: 'A face that is not flat leaks at the port the studs cannot pull down, and bends the flange when they do.',
  remedy: 'Face it again after welding and stress relief; look for a bruise or a burr first.',
  messages: { face: '{measured} over {points:count} points, uncertainty of the reading {reach} (95 %).' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'faces'>[] =>
    spec.faces.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({
    extent: at(`faces.${row.id}.extent`, row.extent),
    face: measuredFace(context, row),
    uncertainty: at<number>(`faces.${row.id}.flatnessUncertainty`, row.flatnessUncertainty),
  }),
  evaluate: ({ extent, face: { flatness, points }, uncertainty }): Outcome => {
    if (points < fewest) {
      const range: readonly [number, number] = [fewest, 100000];
      const input = 'points on the face';
      return { status: 'unknown', why: { reason: 'outOfValidity', input, value: points, range, unit: 'count' } };
    }
    const value = limits[extent];
    const reach = coverage * uncertainty;
    return judge(flatness, {
      limit: { kind: 'max', value },
      guard: reach + 0.05 * value,
      message: 'face',
      data: { points, measured: inMicrometres(flatness), reach: inMicrometres(reach) },
    });
  },
});
