import { describe, expect, it } from 'vitest';
import { evaluateRow, ruleTable } from '../../../../tests/support/ruleTable.ts';
import { type HeatClassKey, heatClasses, heatClassKeys } from '../../../trade/data/heat-classes.ts';
import { componentClass } from './rule.ts';

const subject = 'c1';
const named = (name: string) => ({ 'components.c1.name': name });
/** Classes from the one that asks for most to the one that asks for least. */
const classes = [...heatClassKeys].sort((a, b) => heatClasses[b].clearance - heatClasses[a].clearance);

ruleTable(
  componentClass,
  [
    {
      kind: 'pass',
      name: 'a frame rail listed as structure passes',
      subject,
      expect: 'pass',
      value: 0.0254,
      limit: 0.0254,
      message: 'implied',
      says: 'Listed as structure; by its name it is structure.',
    },
    {
      kind: 'pass',
      name: 'a thing whose name says nothing passes in any class',
      subject,
      spec: { ...named('Ding'), 'components.c1.heatClass': 'bare-metal' },
      expect: 'pass',
      limit: 0,
      message: 'plain',
      says: 'Listed as bare-metal.',
    },
    {
      kind: 'fail',
      name: 'a brake line listed as bare metal fails',
      subject,
      spec: { ...named('Front brake line'), 'components.c1.heatClass': 'bare-metal' },
      expect: 'fail',
      value: 0.01,
      limit: 0.075,
      message: 'implied',
    },
    {
      kind: 'boundary',
      name: 'the first class that asks for less than wiring',
      subject,
      spec: named('Engine loom'),
      move: 'components.c1.heatClass',
      as: (x) => classes[Math.round(x)] ?? 'bare-metal',
      inside: 0,
      outside: classes.length - 1,
      expectInside: 'pass',
      expectOutside: 'fail',
      limit: 3 * 0.0254,
      // Between the wiring table's 76.2 mm and the 75 mm of a brake line.
      tolerance: 0.02,
    },
    {
      kind: 'published',
      name: 'a brake line needs the distance of its class, which an inspection code backs',
      subject,
      spec: { ...named('Brake line'), 'components.c1.heatClass': 'structure' },
      expect: 'fail',
      value: 0.0254,
      limit: 0.075,
      citation:
        'vehicle inspection code COMAR 11.22.02.11 rejects a brake line within 38 mm of an exhaust; structure asks for 25.4 mm',
    },
  ],
  { without: { validity: 'every class of the list has a clearance' } },
);

describe('what a name implies', () => {
  it.each<[string, HeatClassKey | null]>([
    ['Steering shaft', 'steering'],
    ['Steering boot', 'hose'],
    ['Hood', 'painted-panel'],
    ['Fuel rail', 'brake-line'],
    ['Coolant hoses', 'hose'],
    ['Carbon bonnet', 'painted-panel'],
    ['Oxygen sensor cable', 'wiring'],
    ['Winged nut', null],
    ['Trailing arm', null],
  ])('%s: %s', (name, key) => {
    const limit = key === null ? 0 : heatClasses[key].clearance;
    const spec = { ...named(name), 'components.c1.heatClass': 'painted-panel' };
    const { verdict } = evaluateRow(componentClass, { name, subject, spec });
    expect(verdict).toMatchObject({ status: 'pass', limit: { kind: 'min', value: limit } });
  });

  it('is nothing for a component without a name', () => {
    const spec = { 'components.c1.name': undefined, 'components.c1.heatClass': 'bare-metal' };
    expect(evaluateRow(componentClass, { name: 'nameless', subject, spec }).verdict).toMatchObject({ status: 'pass' });
  });
});
