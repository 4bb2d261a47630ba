import { runnerTubeMass } from '../../../quantities/tubeMass.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Mass of the header against its target. */
export const headerMass = defineRule({
  id: 'header-mass',
  gate: 'design',
  title: 'Limit the mass of the header to its target',
  severity: 'advise',
  adjustable: false,
  branches: ['runners', 'tube', 'service', 'materials'],
  cost: 'cheap',
  quantity: 'mass',
  limit: 'runner tube + other parts <= target mass (caution only)',
  source: { document: 'own: target of the project, and geometry of the tube', trust: 'own' },
  validity: 'Nominal tube and bends without thinning; the other parts as stated. Weld metal is not in it.',
  hazard: 'Mass hung on the head loads studs and runner roots and slows the car; a target missed late costs a rebuild.',
  remedy: 'Thin the wall where strength allows, shorten runners, or pocket the flange.',
  messages: { parts: 'Runner tube {tube}, other parts {other}.' },
  since: 1,
  subjects: (spec): readonly Subject[] =>
    spec.runners.length === 0 ? [] : [{ kind: 'job', id: 'header', name: 'Header' }],
  reads: (context) => {
    const { service } = context.spec;
    return {
      tube: runnerTubeMass(context),
      other: at<number>('service.otherMass', service.otherMass),
      target: at<number>('service.massTarget', service.massTarget),
    };
  },
  evaluate: ({ tube, other, target }) =>
    judge(tube + other, { limit: { kind: 'max', value: target }, message: 'parts', data: { tube, other } }),
});
