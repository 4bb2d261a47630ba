import { socketReach } from '../../../quantities/access.ts';
import type { Spec } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const blockers = { tube: 'a runner', part: 'a piece', scan: 'a bay component', none: 'nothing' } as const;

/** Room for the socket on each fastener of the head flange. */
export const fastenerAccess = defineRule({
  id: 'fastener-access',
  gate: 'design',
  title: 'Require room for the socket on every fastener',
  severity: 'block',
  adjustable: false,
  branches: ['holes', 'tools', 'flange', 'runners', 'tube', 'pieces', 'components', 'datums', 'route'],
  cost: 'measured',
  quantity: 'length',
  limit: 'free length of the socket envelope from the flange up >= stated socket length',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'a nut that a socket does not reach is not tightened hot',
  },
  validity:
    'A straight round tool square to the flange. The swing of the ratchet and the hand are not looked at. Scan points of the stud itself are left out.',
  hazard:
    'A nut that cannot be reached is not tightened again after the first heat; the gasket leaks hot gas at a wiring loom.',
  remedy: 'Move the runner at the witness, use a shorter or a flexible socket and state it, or move the stud.',
  messages: { by: 'Stopped by {by}; {reach} was looked at.' },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'holes'>[] =>
    spec.holes.map((row) => ({ kind: 'hole', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => {
    const { tools } = context.spec;
    return { room: socketReach(context, row), length: at<number>('tools.socketLength', tools.socketLength) };
  },
  evaluate: ({ room, length }) =>
    judge(room.free, {
      limit: { kind: 'min', value: length },
      message: 'by',
      data: { by: blockers[room.by ?? 'none'], reach: 2 * length },
      ...(room.at && { witness: { at: room.at } }),
    }),
});
