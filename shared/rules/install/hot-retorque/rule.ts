import { dateProblem } from '../../../quantities/recordedDate.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** How far the torque may be off the stated one. */
const band = 0.1;

/** Tightening again after the first heat cycles: recorded with its date, to the stated torque. */
export const hotRetorque = defineRule({
  id: 'hot-retorque',
  gate: 'install',
  title: 'Require the studs to be tightened again after the first heat',
  severity: 'block',
  adjustable: false,
  branches: ['retorque', 'stud'],
  cost: 'cheap',
  quantity: 'torque',
  limit: 'a dated record, after at least one heat cycle, within 10 % of the stated torque',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'hand wrenches are good to 4 to 6 % (ISO 6789, from memory)',
  },
  validity: 'Tightened cold. The record says what a person did; nothing here measures the clamp.',
  hazard:
    'Gaskets and threads settle in the first heat: clamp is lost, the joint blows, and hot gas cuts flange and head.',
  remedy: 'Let it cool, tighten in the stated order and write it down.',
  messages: { done: 'Tightened on {date} after {cycles:count} heat cycles; stated torque {stated}.' },
  since: 1,
  subjects: (): readonly Subject[] => [{ kind: 'job', id: 'studs', name: 'Head studs, hot' }],
  reads: ({ spec: { retorque, stud } }) => ({
    date: at('retorque.date', retorque.date),
    cycles: at<number>('retorque.cycles', retorque.cycles),
    torque: at<number>('retorque.torque', retorque.torque),
    stated: at<number>('stud.torque', stud.torque),
  }),
  evaluate: ({ date, cycles, torque, stated }) => {
    const problem = dateProblem(date);
    if (problem !== null)
      return { status: 'unknown', why: { reason: 'inconsistent', detail: problem, paths: ['retorque.date'] } };
    if (cycles < 1) {
      const detail = `expected at least one heat cycle before tightening again, got ${cycles}`;
      return { status: 'unknown', why: { reason: 'inconsistent', detail, paths: ['retorque.cycles'] } };
    }
    return judge(torque, {
      limit: { kind: 'range', low: (1 - band) * stated, high: (1 + band) * stated },
      // Practice: 5 % of the width allowed.
      guard: 0.05 * 2 * band * stated,
      message: 'done',
      data: { date, cycles, stated },
    });
  },
});
