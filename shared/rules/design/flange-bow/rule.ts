import { metalProperty } from '../../../quantities/metal.ts';
import { studForces } from '../../../quantities/studForces.ts';
import { longestStudSpan } from '../../../quantities/studSpan.ts';
import { flangeBow as bow } from '../../../trade/clamp/flange-bow.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Beam factor by what holds the flange at the studs: its own other spans, or nothing past a saw cut. */
const endFactors = { continuous: 1, cut: 5 } as const;

/** Bow of the head flange between studs against what the gasket can follow. */
export const flangeBow = defineRule({
  id: 'flange-bow',
  gate: 'design',
  title: 'Limit how far the head flange bows between studs',
  severity: 'block',
  adjustable: false,
  branches: ['holes', 'flange', 'stud', 'gasket', 'materials'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'bow over the longest stud span at the greatest preload <= recovery of the gasket',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'the gasket has to follow the bow; 0.05 mm where its maker says nothing. Bow: beam theory, from memory',
  },
  validity:
    'Longest span between neighbouring studs of one side, even gasket load, straight beam of the stated width. End spans and ports that weaken the section bow more.',
  hazard:
    'A flange that lifts between studs lets the gasket blow out there: hot gas at the head and at what is near it.',
  remedy: 'Thicken the flange (the bow falls with the cube), add studs, or take a gasket with more recovery.',
  messages: { span: 'Span {span}, {load:force} of gasket force over it.' },
  since: 1,
  subjects: (spec): readonly Subject[] =>
    spec.holes.length === 0 ? [] : [{ kind: 'job', id: 'flange', name: 'Head flange between studs' }],
  reads: (context) => {
    const { flange, gasket } = context.spec;
    return {
      pitch: longestStudSpan(context),
      forces: studForces(context),
      studs: at<number>('gasket.studs', gasket.studs),
      width: at<number>('flange.width', flange.width),
      thickness: at<number>('flange.thickness', flange.thickness),
      spanEnds: at('flange.spanEnds', flange.spanEnds),
      modulus: metalProperty(context, 'flange', 'modulus', at<number>('flange.temperature', flange.temperature)),
      recovery: at<number>('gasket.recovery', gasket.recovery),
    };
  },
  evaluate: ({ forces, studs, spanEnds, recovery, ...beam }) => {
    const load = studs * forces.high;
    const found = bow.evaluate({ ...beam, load, endFactor: endFactors[spanEnds] });
    if (!found.known) return { status: 'unknown', why: found.why };
    return judge(found.value, {
      limit: { kind: 'max', value: recovery },
      guard: 0.05 * recovery,
      message: 'span',
      data: { span: beam.pitch, load },
    });
  },
});
