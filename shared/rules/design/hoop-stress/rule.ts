import { metalProperty, yieldSource } from '../../../quantities/metal.ts';
import { hoopStress as hoop } from '../../../trade/strength/hoop-stress.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { runnerSubjects } from '../../subjects.ts';

/** Standard atmosphere, Pa: what the stated absolute pressure is held against. */
const atmosphere = 101325;
/** Factor on yield. */
const factor = 1.5;

/** Hoop stress of the runner wall at exhaust pressure against hot yield. */
export const hoopStress = defineRule({
  id: 'hoop-stress',
  gate: 'design',
  title: 'Limit the hoop stress in a runner wall',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'tube', 'engine', 'materials'],
  fields: { engine: ['exhaustPressure'] },
  cost: 'cheap',
  quantity: 'stress',
  limit: 'hoop stress at exhaust pressure <= yield at wall temperature / 1.5',
  source: {
    document: 'factor 1.5 on yield: common practice, no source',
    trust: 'practice',
    note: 'yield comes from the alloy table, named beside the verdict',
  },
  validity:
    'Thin wall (wall / diameter up to 0.1), nominal wall, steady pressure above one standard atmosphere. Creep and thermal stress are not in it.',
  hazard: 'A wall past yield bulges and splits along the tube, letting hot gas out into the bay.',
  remedy: 'Thicken the wall, bring the wall temperature down, or take a stronger alloy.',
  messages: { against: 'Yield {yield} at wall temperature, gauge pressure {pressure:pressure}.' },
  since: 1,
  subjects: runnerSubjects,
  reads: (context) => {
    const { tube, engine } = context.spec;
    const temperature = at<number>('tube.wallTemperature', tube.wallTemperature);
    return {
      limitNote: yieldSource(context, 'tube'),
      yieldStrength: metalProperty(context, 'tube', 'yield', temperature),
      outsideDiameter: at<number>('tube.outsideDiameter', tube.outsideDiameter),
      wall: at<number>('tube.wall', tube.wall),
      pressure: at<number>('engine.exhaustPressure', engine.exhaustPressure),
    };
  },
  evaluate: ({ limitNote, yieldStrength, outsideDiameter, wall, pressure }) => {
    // Below the atmosphere the wall is pushed in, not out: no hoop tension to judge.
    const gauge = Math.max(0, pressure - atmosphere);
    const stress = hoop.evaluate({ pressure: gauge, outsideDiameter, wall });
    if (!stress.known) return { status: 'unknown', why: stress.why };
    return judge(stress.value, {
      limit: { kind: 'max', value: yieldStrength / factor },
      message: 'against',
      data: { yield: yieldStrength, pressure: gauge },
      limitNote,
    });
  },
});
