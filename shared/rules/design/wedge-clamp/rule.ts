import type { Spec } from '../../../spec/spec.ts';
import { slidingWedgeBand } from '../../../trade/clamp/sliding-wedge.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Clamp force of a wedge flange at the worst friction, and whether its wedge stays where it was driven. */
export const wedgeClamp = defineRule({
  id: 'wedge-clamp',
  gate: 'design',
  title: 'Require a wedge flange to clamp enough and to stay put',
  severity: 'block',
  adjustable: false,
  branches: ['wedges'],
  cost: 'cheap',
  quantity: 'force',
  limit:
    'clamp force at the highest friction >= force needed; unlocked drive: release force at the lowest friction >= 0',
  source: {
    document: 'own: statics of a wedge with friction on two faces',
    trust: 'own',
    note: 'friction bands are common practice and doubtful: greased 0.10 to 0.15, hot dry oxidised metal 0.3 to 0.6',
  },
  validity:
    'Wedge driven along the sealing face between bevel and ledge, one friction on both faces. The force is of one wedge as stated; heat changes it.',
  hazard:
    'A wedge that walks out opens the turbine joint at speed: hot gas at full flow and a turbo held by its lines.',
  remedy: 'Lock the drive screw, flatten the wedge angle, drive harder, or add a second wedge.',
  messages: {
    clamps: 'Governs: clamp at friction {friction:ratio} from {drive:force} of drive.',
    slips: 'Governs: at friction {friction:ratio} this force pushes the wedge out (below 0) and nothing locks it.',
  },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'wedges'>[] =>
    spec.wedges.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_, { row }) => {
    const path = `wedges.${row.id}`;
    return {
      drive: at<number>(`${path}.drive`, row.drive),
      angle: at<number>(`${path}.angle`, row.angle),
      lowFriction: at<number>(`${path}.lowFriction`, row.lowFriction),
      highFriction: at<number>(`${path}.highFriction`, row.highFriction),
      lock: at(`${path}.lock`, row.lock),
      need: at<number>(`${path}.need`, row.need),
    };
  },
  evaluate: ({ drive, angle, lowFriction, highFriction, lock, need }, { row }) => {
    if (lowFriction > highFriction) {
      const detail = `expected a highest friction of at least ${lowFriction}, got ${highFriction}`;
      const paths = ['lowFriction', 'highFriction'].map((key) => `wedges.${row.id}.${key}`);
      return { status: 'unknown', why: { reason: 'inconsistent', detail, paths } };
    }
    const band = slidingWedgeBand(drive, angle, [lowFriction, highFriction]);
    if (!band.known) return { status: 'unknown', why: band.why };
    const { low, high } = band.value;
    if (lock === 'free' && !low.selfLocking)
      return judge(low.clamp * low.releaseShare, {
        limit: { kind: 'min', value: 0 },
        message: 'slips',
        data: { friction: lowFriction },
      });
    return judge(high.clamp, {
      limit: { kind: 'min', value: need },
      guard: 0.05 * need,
      message: 'clamps',
      data: { friction: highFriction, drive },
    });
  },
});
