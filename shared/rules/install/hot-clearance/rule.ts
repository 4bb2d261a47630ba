import { clearanceOf, gapLeft } from '../../../quantities/clearanceLeft.ts';
import { namedComponent } from '../../../quantities/measuredGap.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Each clearance measured hot against the clearance its component needs. */
export const hotClearance = defineRule({
  id: 'hot-clearance',
  gate: 'install',
  title: 'Require clearance measured hot',
  severity: 'block',
  adjustable: false,
  branches: ['hotClearances', 'components', 'engine'],
  fields: { engine: ['rock'] },
  cost: 'cheap',
  quantity: 'length',
  limit: 'measured gap - engine rock - 1.65 x uncertainty >= clearance of the heat class (10 to 100 mm)',
  source: {
    document: 'table of heat classes: published distances from exhaust parts and common practice',
    trust: 'practice',
    note: 'each class names its own source; guard band 1.65 u after ISO 14253-1:2017, from memory',
  },
  validity: 'Measured with the header hot and the engine still, bare pipe. Growth is in the measured gap, rock is not.',
  hazard: 'What was clear on the screen may touch hot: a burnt hose or line, fire, or the brakes gone.',
  remedy: 'Shield or move the component; if the gap shrank more than drawn, look for a mount or a flange that moved.',
  messages: { made: 'Gap {gap} hot, less rock {rock} and guard band {guard}.' },
  since: 1,
  subjects: ({ hotClearances }): readonly RowSubject<'hotClearances'>[] =>
    hotClearances.map((row) => ({ kind: 'reading', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => {
    const path = `hotClearances.${row.id}`;
    return {
      heatClass: derive({ component: namedComponent(context, `${path}.component`, row.component) }, ({ component }) =>
        at(`components.${component.id}.heatClass`, component.heatClass),
      ),
      gap: at<number>(`${path}.gap`, row.gap),
      uncertainty: at<number>(`${path}.uncertainty`, row.uncertainty),
      rock: at<number>('engine.rock', context.spec.engine.rock),
    };
  },
  evaluate: ({ heatClass, gap, uncertainty, rock }) => {
    const { left, guard } = gapLeft(gap, { cover: 0, rock, growth: 0, uncertainty });
    const { clearance, note } = clearanceOf(heatClass);
    return judge(left, {
      limit: { kind: 'min', value: clearance },
      message: 'made',
      data: { gap, rock, guard },
      limitNote: note,
    });
  },
});
