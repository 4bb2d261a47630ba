import { holeDistance } from '../../../quantities/holeDistance.ts';
import { metalProperty } from '../../../quantities/metal.ts';
import type { Spec } from '../../../spec/spec.ts';
import { threads } from '../../../trade/data/threads.ts';
import { differentialGrowth } from '../../../trade/strength/differential-growth.ts';
import { at, derive, type Values } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Temperature flange and head were drilled at, K. */
const cold = 293.15;
/** Room left beside the stud on top of growth and position tolerance, m. */
const spare = 1e-4;

/** Growth of the flange against the head at each stud hole, in its two worst states. */
export const flangeGrowth = defineRule({
  id: 'flange-growth',
  gate: 'design',
  title: 'Limit how far the flange grows against the head at a stud',
  severity: 'block',
  adjustable: false,
  branches: ['holes', 'flange', 'head', 'stud', 'materials'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'differential growth + position tolerance + 0.1 mm <= radial clearance of the hole',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'one datum hole to close fit, every other hole clears growth, position tolerance and 0.1 mm; arithmetic own',
  },
  validity:
    'Uniform temperature in flange and head, round holes, one mean head coefficient for both states. A slot needs its own check.',
  hazard:
    'A flange that runs out of clearance shears or bends its studs, walks the gasket and strips the head threads.',
  remedy:
    'Open or slot the holes far from the datum, move the datum hole to the middle, or cut the flange between ports.',
  messages: {
    running: 'Hot running: the flange outgrows the head by {growth} at {distance} from the datum hole.',
    soak: 'Heat soak at head temperature: growth {growth} at {distance} from the datum hole is the larger.',
  },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'holes'>[] =>
    spec.holes.map((row) => ({ kind: 'hole', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => {
    const { flange, head, stud } = context.spec;
    const flangeTemperature = at<number>('flange.temperature', flange.temperature);
    const headTemperature = at<number>('head.temperature', head.temperature);
    const expansion = (temperature: typeof flangeTemperature) =>
      metalProperty(context, 'flange', 'expansion', temperature);
    return {
      distance: holeDistance(context, row),
      flangeTemperature,
      headTemperature,
      headExpansion: at<number>('head.expansion', head.expansion),
      runningExpansion: expansion(flangeTemperature),
      soakExpansion: expansion(headTemperature),
      positionTolerance: at<number>('flange.positionTolerance', flange.positionTolerance),
      holeDiameter: at<number>('flange.holeDiameter', flange.holeDiameter),
      stud: derive({ thread: at('stud.thread', stud.thread) }, ({ thread }) => threads[thread].diameter),
    };
  },
  evaluate: ({ distance, holeDiameter, stud, positionTolerance, ...joint }) => {
    if (distance === null) return { status: 'notApplicable', because: 'growth is measured from this hole' };
    const states = growthStates(distance, joint);
    if (!states.known) return { status: 'unknown', why: states.why };
    const { running, soak } = states.value;
    const [message, growth] = Math.abs(soak) > Math.abs(running) ? ['soak', soak] : ['running', running];
    return judge(Math.abs(growth) + positionTolerance + spare, {
      limit: { kind: 'max', value: (holeDiameter - stud) / 2 },
      message,
      data: { growth, distance },
    });
  },
});

interface Joint {
  readonly flangeTemperature: number;
  readonly headTemperature: number;
  readonly headExpansion: number;
  readonly runningExpansion: number;
  readonly soakExpansion: number;
}

/** Growth at a distance in the hot running state and in heat soak, when the flange has come down to the head's temperature. */
function growthStates(distance: number, joint: Joint) {
  const { headExpansion, headTemperature } = joint;
  const state = (flangeExpansion: number, flangeTemperature: number) =>
    differentialGrowth.evaluate({
      flangeExpansion,
      flangeTemperature,
      headExpansion,
      headTemperature,
      distance,
      referenceTemperature: cold,
    });
  const states = {
    running: state(joint.runningExpansion, joint.flangeTemperature),
    soak: state(joint.soakExpansion, headTemperature),
  };
  return derive(states, (v): Values<typeof states> => v);
}
