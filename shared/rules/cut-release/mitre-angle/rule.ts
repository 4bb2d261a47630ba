import { isFabricated } from '../../../quantities/cutPieces.ts';
import type { Spec } from '../../../spec/spec.ts';
import { mitreBend } from '../../../trade/tube/mitre-bend.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Steepest saw cut of a bend made of wedges, rad. */
const steepest = (22.5 * Math.PI) / 180;

/** Saw angle of a mitred bend. */
export const mitreAngle = defineRule({
  id: 'mitre-angle',
  gate: 'cut-release',
  title: 'Limit the saw angle of a mitred bend',
  severity: 'block',
  adjustable: false,
  branches: ['mitres', 'tube', 'route'],
  cost: 'cheap',
  quantity: 'angle',
  limit: 'saw angle from square <= 22.5 deg',
  source: {
    document: 'ASME B31.3 process piping',
    clause: '304.2.3, bends of several mitres',
    trust: 'memory',
    note: 'a pressure rule; flow asks for less, pie cuts of 5 to 9 deg are usual',
  },
  validity: 'Bend with half a wedge at each end cut on its straight, radius above half the diameter.',
  hazard: 'Steep mitres trip the flow, put the weld where the wall bends most and crack from the inside corner.',
  remedy: 'Use more joints, or a drawn bend.',
  messages: { wedges: '{wedges:count} full wedges, {inner:length} long on the inside.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'mitres'>[] =>
    isFabricated(spec) ? spec.mitres.map((row) => ({ kind: 'bend', id: row.id, name: nameOf(row), row })) : [],
  reads: (context, { row }) => {
    const path = `mitres.${row.id}`;
    return {
      angle: at<number>(`${path}.angle`, row.angle),
      radius: at<number>(`${path}.radius`, row.radius),
      count: at<number>(`${path}.joints`, row.joints),
      outsideDiameter: at<number>('tube.outsideDiameter', context.spec.tube.outsideDiameter),
    };
  },
  evaluate: (bend) => {
    const cuts = mitreBend({ ...bend, convention: 'A' });
    if (!cuts.known) return { status: 'unknown', why: cuts.why };
    const { sawAngle, fullWedges, inner } = cuts.value;
    return judge(sawAngle, {
      limit: { kind: 'max', value: steepest },
      guard: 0.05 * steepest,
      message: 'wedges',
      data: { wedges: fullWedges, inner },
    });
  },
});
