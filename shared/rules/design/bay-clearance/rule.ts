import { clearanceOf, hotGapLeft } from '../../../quantities/clearanceLeft.ts';
import { metalProperty } from '../../../quantities/metal.ts';
import { scanGap } from '../../../quantities/scanGap.ts';
import type { BayComponent, Runner } from '../../../spec/spec.ts';
import { at, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf } from '../../subjects.ts';
import type { Subject } from '../../verdict.ts';

interface RunnerComponent extends Subject {
  readonly runner: Runner;
  readonly component: BayComponent;
}

/** Smallest gap of each runner to each bay component, less what moves or is not known. */
export const bayClearance = defineRule({
  id: 'bay-clearance',
  gate: 'design',
  title: 'Require clearance from every runner to every bay component',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'components', 'datums', 'tube', 'flange', 'engine', 'bay', 'materials'],
  fields: { engine: ['rock'] },
  cost: 'measured',
  quantity: 'length',
  limit:
    'gap - sampling - engine rock - hot growth - 1.65 x scan uncertainty >= clearance of the heat class (10 to 100 mm)',
  source: {
    document: 'table of heat classes: published distances from exhaust parts and common practice',
    trust: 'practice',
    note: 'each class names its own source; guard band 1.65 u after ISO 14253-1:2017, from memory',
  },
  validity:
    'Bare, unshielded pipe. Growth is that of a free runner up to the nearest place, so an upper bound. The first flange thickness of the runner is not measured.',
  hazard:
    'A hot runner too near a line, a cable or a panel burns it: brake or fuel loss, fire, or a chafed hose after the engine rocks.',
  remedy: 'Move the nodes near the witness away, fit a shield and record a concession, or move the component.',
  messages: {
    made: 'Gap {gap} cold, less sampling of the scan {cover}, rock {rock}, hot growth {growth} and guard band {guard}.',
  },
  since: 1,
  subjects: (spec): readonly RunnerComponent[] =>
    spec.runners.flatMap((runner) =>
      spec.components.map((component) => ({
        kind: 'runner-component',
        id: `${runner.id}~${component.id}`,
        name: `${nameOf(runner)} x ${nameOf(component)}`,
        runner,
        component,
      })),
    ),
  reads: (context, { runner, component }) => {
    const { tube, engine, bay } = context.spec;
    const path = `components.${component.id}`;
    return {
      measurement: scanGap(context, runner, component),
      runner: known(runner.id),
      heatClass: at(`${path}.heatClass`, component.heatClass),
      unit: at(`${path}.scanUnit`, component.scanUnit),
      rock: at<number>('engine.rock', engine.rock),
      uncertainty: at<number>('bay.scanUncertainty', bay.scanUncertainty),
      temperature: at<number>('tube.wallTemperature', tube.wallTemperature),
      expansion: metalProperty(context, 'tube', 'expansion', at<number>('tube.wallTemperature', tube.wallTemperature)),
    };
  },
  evaluate: ({ measurement, runner, heatClass, rock, uncertainty, temperature, expansion }) => {
    const { gap, cover, point, onTube, s } = measurement;
    const hot = hotGapLeft(gap, { cover, rock, uncertainty, length: s, temperature, expansion });
    if (!hot.known) return { status: 'unknown', why: hot.why };
    const { left, guard, growth } = hot.value;
    const { clearance, note } = clearanceOf(heatClass);
    return judge(left, {
      limit: { kind: 'min', value: clearance },
      message: 'made',
      data: { gap, cover, rock, growth, guard },
      witness: { at: point, to: onTube, runner, s },
      limitNote: note,
    });
  },
});
