import { impliedClass } from '../../../quantities/impliedClass.ts';
import { heatClasses } from '../../../trade/data/heat-classes.ts';
import { at, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { componentSubjects } from '../../subjects.ts';

/** Each bay component has a heat class, and not one that asks for less than its own name does. */
export const componentClass = defineRule({
  id: 'component-class',
  gate: 'scan',
  title: 'Require a heat class that fits the name of each bay component',
  severity: 'block',
  adjustable: false,
  branches: ['components'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'clearance of the heat class >= that of the class its name implies (0 when the name implies none)',
  source: { document: 'own: usual English words of the trade for what a component is', trust: 'own' },
  validity: 'Names in English; a name without a word that is known is not judged beyond having a class.',
  hazard: 'A brake line listed as bare metal passes at a tenth of the distance it needs, and burns.',
  remedy: 'Choose the class of what the component really is, or name it for what it is.',
  messages: {
    plain: 'Listed as {listed}.',
    implied: 'Listed as {listed}; by its name it is {implied}.',
  },
  since: 2,
  subjects: componentSubjects,
  reads: (_context, { component }) => ({
    heatClass: at(`components.${component.id}.heatClass`, component.heatClass),
    // A component without a name is judged by its class alone.
    name: known(component.name ?? ''),
  }),
  evaluate: ({ heatClass, name }) => {
    const implied = impliedClass(name);
    const data = { listed: heatClass, implied: implied ?? '' };
    const value = implied === null ? 0 : heatClasses[implied].clearance;
    const message = implied === null ? 'plain' : 'implied';
    // Both are rows of one table: at the limit they are the same row, which is not close to anything.
    return judge(heatClasses[heatClass].clearance, { limit: { kind: 'min', value }, guard: 0, message, data });
  },
});
