import { describe, expect, it } from 'vitest';
import { readSpec } from '../spec/reader.ts';
import { at } from '../units/known.ts';
import { gateFacts } from './coverage.ts';
import { gateRow } from './gates.ts';
import { freshVerdicts, inventedRule, undecided } from './invent.ts';
import {
  defaultPlan,
  type GatePlan,
  type Plan,
  type PlanItem,
  planDigest,
  planFacts,
  planOf,
  planProblems,
} from './plan.ts';
import { fieldChoices, fieldPattern, fieldPlaces } from './planField.ts';
import { gateViews } from './readiness.ts';

const change = (gate: string, over: Partial<GatePlan>): Plan =>
  defaultPlan.map((row) => (row.gate === gate ? { ...row, ...over } : row));
const items = (...list: readonly Partial<PlanItem>[]) =>
  change('weld', { items: list.map((one) => ({ id: 'one', point: 'hold', text: 'Look', ...one })) });
const specOf = (content: Readonly<Record<string, unknown>>) => readSpec(new Map(Object.entries(content)));

describe('the default plan', () => {
  it('is the gate table, can be worked by, and asks for fields of the spec', () => {
    expect(planProblems(defaultPlan)).toEqual([]);
    expect(defaultPlan.every(({ point, twoPeople }) => point === 'hold' && twoPeople)).toBe(true);
    const asked = defaultPlan.flatMap((row) => row.items.flatMap(({ field }) => field ?? []));
    expect(asked.length).toBeGreaterThan(8);
    for (const field of asked) expect(fieldPattern(field), field).not.toBeNull();
  });

  it('adds no fact of its own, so that signatures from before there were plans stay current', () => {
    for (const row of defaultPlan) expect(planFacts(row)).toEqual({});
  });
});

describe('planProblems', () => {
  const weldOnly = defaultPlan.map((row) =>
    row.gate === 'print-release' ? row : { ...row, point: 'review' as const },
  );
  it.each<readonly [string, Plan, RegExp]>([
    ['nobody signs', change('weld', { signs: [] }), /^Weld: expected at least one signer, got none$/],
    ['a signer twice', change('weld', { signs: ['lead', 'lead'] }), /expected each signer once, got lead twice/],
    ['a gate too few', defaultPlan.slice(0, 8), /gate 9: expected install, got nothing/],
    ['gates out of order', [...defaultPlan].reverse(), /gate 1: expected scan, got install/],
    ['a gate too many', [...defaultPlan, ...defaultPlan.slice(0, 1)], /expected 9 gates, got 10/],
    ['a gate left out for nothing', change('weld', { left: '  no ' }), /expected a reason of 10 to 200 characters/],
    ['an item twice', items({}, {}), /expected each id once, got "one" twice/],
    ['an id that is none', items({ id: 'A b' }), /expected an id of letters, digits and dashes, got "A b"/],
    ['no text', items({ text: '  ' }), /expected a text of 1 to 200 characters, got 0/],
    ['a long text', items({ text: 'x'.repeat(201) }), /got 201/],
    ['a field that is none', items({ field: 'joints.*.taste' }), /expected a field such as .* got "joints\.\*\.taste"/],
    ['a field of one row', items({ field: 'joints.j1.wall' }), /expected a field/],
    ['too many items', items(...Array.from({ length: 41 }, (_, i) => ({ id: `i${i}` }))), /at most 40 items, got 41/],
    ['nothing that every route passes holds', weldOnly, /expected at least one hold gate that every route passes/],
    ['everything left out', defaultPlan.map((row) => ({ ...row, left: 'nobody needs it' })), /at least one hold gate/],
  ])('%s', (_, plan, problem) => {
    expect(planProblems(plan).join('; ')).toMatch(problem);
  });

  it('takes what can be worked by', () => {
    expect(planProblems(change('weld', { left: 'welded by the customer', items: [] }))).toEqual([]);
    expect(
      planProblems(items({ field: 'joints.*.rootGap' }, { id: 'two', field: 'turbo.mass', text: 'x'.repeat(200) })),
    ).toEqual([]);
    expect(planDigest(change('weld', {}))).toBe(planDigest(defaultPlan));
  });
});

describe('planFacts', () => {
  it('names all in which a plan differs from the default', () => {
    const [first, ...rest] = planOf(defaultPlan, 'weld').items;
    if (!first) throw new Error('no item');
    const over = {
      ...({ point: 'witness', signs: ['lead'], twoPeople: false } as const),
      items: [
        { ...first, text: 'Brushed' },
        ...rest.slice(1),
        { id: 'new', point: 'review', text: 'Read', field: 'turbo.mass' } as const,
      ],
    };
    expect(planFacts(planOf(change('weld', over), 'weld'))).toEqual({
      'plan.weld.point': 'witness',
      'plan.weld.signs': 'lead',
      'plan.weld.twoPeople': false,
      'plan.weld.items.cleaned': 'hold: Brushed',
      'plan.weld.items.oxygen-read': 'taken out',
      'plan.weld.items.new': 'review: Read [turbo.mass]',
    });
  });
});

describe('fields of items', () => {
  const spec = specOf({
    'turbo.mass': 6,
    'joints.b': 2,
    'joints.a': 1,
    'joints.a.name': 'A',
    'joints.a.rootGap': 0.001,
  });
  it('are one of the job or one of every row', () => {
    expect(fieldPlaces('turbo.mass', spec)).toEqual([{ path: 'turbo.mass', row: null, value: 6 }]);
    expect(fieldPlaces('joints.*.rootGap', spec)).toEqual([
      { path: 'joints.a.rootGap', row: 'A', value: 0.001 },
      { path: 'joints.b.rootGap', row: 'b', value: null },
    ]);
    expect(fieldPlaces('joints.*', spec)).toEqual([]);
    for (const { field } of fieldChoices) expect(fieldPattern(field), field).not.toBeNull();
    expect(fieldChoices.length).toBeGreaterThan(150);
  });

  it.each([
    '',
    'turbo',
    'turbo.*.mass',
    'limits.*.most',
    'joints.*.',
    'ticks.*.x',
    'runners.*.nodes.*.x',
    '__proto__.x',
  ])('%j names none', (text) => expect(fieldPattern(text)).toBeNull());

  it('hold a gate until they have a value, and are covered by its signatures', () => {
    const rule = inventedRule({ id: 'w', gate: 'weld', branches: ['purges'] }, () => ({ job: at('x', 0) }));
    const plan = items({ field: 'joints.*.rootGap' });
    const ticked = { 'ticks.weld.one': { done: true, note: '', by: 'x' } };
    const stateOf = (content: Readonly<Record<string, unknown>>) => {
      const one = specOf({ ...ticked, ...content });
      const verdicts = freshVerdicts(one, [rule]);
      const views = gateViews({ spec: one, verdicts, rules: [rule], ruleSet: 1, signatures: [], ...undecided, plan });
      return views.find(({ gate }) => gate === 'weld')?.state;
    };
    const gap = { 'joints.a': 1, 'joints.a.rootGap': 0.001 };
    expect(stateOf(gap)?.state).toBe('ready');
    expect(stateOf({})).toMatchObject({ state: 'open', blockers: [{ kind: 'item', item: 'one', unmeasured: [] }] });
    expect(stateOf({ ...gap, 'joints.b': 2 })).toMatchObject({ blockers: [{ unmeasured: ['joints.b.rootGap'] }] });
    expect(stateOf({ ...gap, 'joints.a.rootGap': 99 })).toMatchObject({
      blockers: [{ unmeasured: ['joints.a.rootGap'] }],
    });
    const facts = gateFacts('weld', specOf(gap), [rule], { plan, conceded: [] });
    expect(facts).toMatchObject({ joints: 'a', 'joints.a.rootGap': 0.001 });
  });
});

describe('gates of a plan', () => {
  const rules = (['scan', 'design', 'mock-up'] as const).map((gate) =>
    inventedRule({ id: `${gate}-fine`, gate, branches: ['service'] }, () => ({ job: at('x', 0) })),
  );
  const blockersOf = (gate: string, plan: Plan) => {
    const ticks = gateRow('mock-up').items.map(({ id }) => [`ticks.mock-up.${id}`, { done: true, note: '', by: 'x' }]);
    const spec = specOf(Object.fromEntries(ticks));
    const verdicts = freshVerdicts(spec, rules);
    const views = gateViews({ spec, verdicts, rules, ruleSet: 1, signatures: [], ...undecided, plan });
    const state = views.find((view) => view.gate === gate)?.state;
    return state?.state === 'open' ? state.blockers.filter(({ kind }) => kind === 'gate') : state;
  };

  it('a gate left out, or one that is no hold point, hands the demand on to those before it', () => {
    expect(blockersOf('mock-up', defaultPlan)).toEqual([{ kind: 'gate', gate: 'design' }]);
    expect(blockersOf('mock-up', change('design', { left: 'drawn by the customer' }))).toEqual([
      { kind: 'gate', gate: 'scan' },
    ]);
    for (const point of ['witness', 'review'] as const)
      expect(blockersOf('mock-up', change('design', { point }))).toEqual([{ kind: 'gate', gate: 'scan' }]);
    expect(blockersOf('design', change('design', { left: 'drawn by the customer' }))).toEqual({
      ...{ state: 'not-in-force', left: 'drawn by the customer' },
    });
  });
});
