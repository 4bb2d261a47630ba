import { describe, expect, it } from 'vitest';
import type { Rule } from '../rules/define.ts';
import type { GateId } from '../spec/gateId.ts';
import { readSpec } from '../spec/reader.ts';
import type { Spec } from '../spec/spec.ts';
import { at } from '../units/known.ts';
import { gateBranches } from './coverage.ts';
import { gateRow, gates } from './gates.ts';
import { freshVerdicts, inventedRule, inventedSignature, undecided } from './invent.ts';
import { maySign } from './maySign.ts';
import { type GateView, gateViews, type Signature } from './readiness.ts';
import type { Role } from './roles.ts';

const lambda = inventedRule({ id: 'lambda-limit', gate: 'design', branches: ['engine'] }, (spec) => ({
  job: at('engine.lambda', spec.engine.lambda),
}));
const nut = inventedRule({ id: 'nut-hint', gate: 'design', branches: ['stud'], severity: 'advise' }, (spec) => ({
  job: at('stud.nutFactor', spec.stud.nutFactor),
}));
const joints = inventedRule({ id: 'joint-limit', gate: 'weld', branches: ['joints'] }, (spec) =>
  Object.fromEntries(spec.joints.map((j) => [j.id, at(`joints.${j.id}.voltage`, j.voltage)])),
);
/** Of the weld gate, always passing. */
const weldFine = inventedRule({ id: 'joint-there', gate: 'weld', branches: ['joints'] }, () => ({ job: at('x', 0) }));
const rules = [lambda, nut, joints];

const tick = (gate: GateId): Record<string, unknown> =>
  Object.fromEntries(
    gateRow(gate).items.map((item) => [`ticks.${gate}.${item.id}`, { done: true, note: '', by: 'x' }]),
  );
const ready = { 'engine.lambda': 0.9, 'turbo.mass': 6, 'stud.nutFactor': 0.15, ...tick('design') };
const specOf = (content: Readonly<Record<string, unknown>>): Spec => readSpec(new Map(Object.entries(content)));

interface Given {
  readonly signatures?: readonly Signature[];
  readonly ruleSet?: number;
  readonly rules?: readonly Rule[];
}

function viewOf(gate: GateId, content: Readonly<Record<string, unknown>>, given: Given = {}): GateView {
  const some = given.rules ?? rules;
  const spec = specOf(content);
  const views = gateViews({
    spec,
    rules: some,
    verdicts: freshVerdicts(spec, some),
    ruleSet: given.ruleSet ?? 1,
    signatures: given.signatures ?? [],
    ...undecided,
  });
  const view = views.find((v) => v.gate === gate);
  if (!view) throw new Error(`no view of ${gate}`);
  return view;
}

const signature = (gate: GateId, role: Role, account: string, content: Readonly<Record<string, unknown>>): Signature =>
  inventedSignature(gate, { spec: specOf(content), rules }, { id: `${role} ${account}`, role, account });
const signDesign = (content: Readonly<Record<string, unknown>> = ready): Signature[] => [
  signature('design', 'designer', 'ann', content),
  signature('design', 'lead', 'bob', content),
];
const without = (content: Readonly<Record<string, unknown>>, key: string): Record<string, unknown> =>
  Object.fromEntries(Object.entries(content).filter(([k]) => k !== key));

describe('the gate table', () => {
  it('asks only for gates that stand before, has each role and item once, and names a caution', () => {
    const ids = gates.map((g) => g.id);
    for (const [i, gate] of gates.entries()) {
      for (const before of gate.after) expect(ids.indexOf(before)).toBeLessThan(i);
      for (const before of gate.after) expect(ids).toContain(before);
      expect(new Set(gate.signs).size).toBe(gate.signs.length);
      expect(gate.signs.length).toBeGreaterThan(0);
      expect(new Set(gate.items.map((item) => item.id)).size).toBe(gate.items.length);
      expect(gate.caution).toMatch(/A verdict is a check, not an approval/);
    }
  });
});

describe('gateViews', () => {
  it('a gate without rules is not in force; every gate has a view in order', () => {
    expect(viewOf('scan', ready).state.state).toBe('not-in-force');
    const spec = specOf(ready);
    const views = gateViews({ spec, rules, verdicts: [], ruleSet: 1, signatures: [], ...undecided });
    expect(views.map((v) => v.gate)).toEqual(gates.map((g) => g.id));
  });

  it('covers the branches its rules read', () => {
    expect(gateBranches('design', rules)).toEqual(['engine', 'limits', 'stud']);
    expect(gateBranches('scan', rules)).toEqual([]);
  });

  it('a branch that a later gate covers moves no signature, yet what fails by it shuts the gate', () => {
    const follows = inventedRule(
      { id: 'follows', gate: 'design', branches: ['engine', 'service'], uncovered: ['service'] },
      (spec) => ({ job: at('service.massTarget', spec.service.massTarget) }),
    );
    expect(gateBranches('design', [follows])).toEqual(['engine', 'limits']);
    const stateWith = (mass: number) => {
      const spec = specOf({ ...ready, 'service.massTarget': mass });
      const signed = specOf({ ...ready, 'service.massTarget': 0.6 });
      const signatures = (['designer', 'lead'] as const).map((role) =>
        inventedSignature('design', { spec: signed, rules: [follows] }, { id: role, role, account: role }),
      );
      const verdicts = freshVerdicts(spec, [follows]);
      const views = gateViews({ spec, rules: [follows], verdicts, ruleSet: 1, signatures, ...undecided });
      return views.find((v) => v.gate === 'design')?.state;
    };
    expect(stateWith(0.6)).toMatchObject({ state: 'signed' });
    expect(stateWith(0.7)).toMatchObject({ state: 'signed' });
    expect(stateWith(8)).toMatchObject({ state: 'open', blockers: [{ kind: 'rule', status: 'fail' }] });
  });

  it('with all in order it is ready and waits for each role', () => {
    expect(viewOf('design', ready).state).toEqual({ state: 'ready', current: [], awaiting: ['designer', 'lead'] });
  });

  it.each<readonly [string, Record<string, unknown>, unknown]>([
    [
      'a failed rule',
      { ...ready, 'engine.lambda': 1.2 },
      { kind: 'rule', verdict: 'lambda-limit/job', status: 'fail' },
    ],
    ['an unknown', without(ready, 'engine.lambda'), { kind: 'rule', verdict: 'lambda-limit/job', status: 'unknown' }],
    [
      'an invalid value',
      { ...ready, 'engine.lambda': 'x' },
      { kind: 'rule', verdict: 'lambda-limit/job', status: 'unknown' },
    ],
    [
      'an item not ticked',
      without(ready, 'ticks.design.route-agreed'),
      { kind: 'item', item: 'route-agreed', text: 'Manufacturing route agreed by shop and designer' },
    ],
    [
      'an item unticked again',
      { ...ready, 'ticks.design.route-agreed': { done: false, note: 'not yet', by: 'x' } },
      { kind: 'item', item: 'route-agreed', text: 'Manufacturing route agreed by shop and designer' },
    ],
  ])('%s holds the gate', (_, content, blocker) => {
    expect(viewOf('design', content).state).toEqual({ state: 'open', current: [], blockers: [blocker] });
  });

  it('advice does not hold it, nor does a witness point', () => {
    expect(viewOf('design', { ...ready, 'stud.nutFactor': undefined }).state.state).toBe('ready');
    const scanRule = inventedRule({ id: 'scan-limit', gate: 'scan', branches: ['bay'] }, () => ({ job: at('x', 0) }));
    const content = { ...ready, ...tick('scan') };
    expect(viewOf('scan', without(content, 'ticks.scan.targets'), { rules: [...rules, scanRule] }).state.state).toBe(
      'ready',
    );
    expect(viewOf('scan', without(content, 'ticks.scan.still'), { rules: [...rules, scanRule] }).state.state).toBe(
      'open',
    );
  });

  it('a gate whose blocking rules found nothing to judge has not been checked', () => {
    const content = { ...ready, ...tick('weld') };
    expect(viewOf('weld', content, { signatures: signDesign(content) }).state).toEqual({
      state: 'open',
      current: [],
      blockers: [{ kind: 'rule', verdict: 'joint-limit/subjects', status: 'unknown' }],
    });
    const spec = specOf(ready);
    const [, design] = gateViews({ spec, rules, verdicts: [], ruleSet: 1, signatures: signDesign(), ...undecided });
    expect(design?.state.state).toBe('open');
  });

  it('is signed when each role has signed these facts', () => {
    const [designer, lead] = signDesign();
    if (!designer || !lead) throw new Error('two signatures');
    const one = viewOf('design', ready, { signatures: [designer] }).state;
    expect(one).toMatchObject({ state: 'ready', awaiting: ['lead'], current: [{ account: 'ann' }] });
    const both = viewOf('design', ready, { signatures: [designer, lead] }).state;
    expect(both).toMatchObject({ state: 'signed', current: [{ role: 'designer' }, { role: 'lead' }] });
    expect(JSON.stringify(both)).not.toContain('"facts"');
  });

  it('goes stale with exactly what moved, and current again when it is undone', () => {
    const signatures = signDesign();
    const state = viewOf('design', { ...ready, 'engine.lambda': 0.95, 'stud.torque': 20 }, { signatures }).state;
    if (state.state !== 'stale') throw new Error(state.state);
    const because = [
      { path: 'engine.lambda', before: 0.9, after: 0.95 },
      { path: 'stud.torque', before: null, after: 20 },
    ];
    expect(state.stale.map((s) => s.because)).toEqual([because, because]);
    expect(state.stale.every((s) => s.ruleSet === undefined)).toBe(true);
    expect(state.current).toEqual([]);
    expect(viewOf('design', ready, { signatures }).state.state).toBe('signed');
  });

  it('a fact no rule of the gate reads does not touch it; a tick of its own does', () => {
    const signatures = signDesign();
    expect(viewOf('design', { ...ready, 'tube.wall': 0.002, 'joints.j': 1 }, { signatures }).state.state).toBe(
      'signed',
    );
    const unticked = viewOf('design', without(ready, 'ticks.design.route-agreed'), { signatures }).state;
    expect(unticked).toMatchObject({ state: 'stale', blockers: [{ kind: 'item', item: 'route-agreed' }] });
  });

  const limit = (id: string, most: number, reason = 'r') => ({
    [`limits.${id}`]: 1,
    [`limits.${id}.most`]: most,
    [`limits.${id}.reason`]: reason,
  });

  it('a limit set for a rule of the gate makes it stale, is named with both values, and taking it back makes it current', () => {
    const signatures = signDesign();
    const set = { ...ready, ...limit('lambda-limit', 0.95) };
    const stale = viewOf('design', set, { signatures }).state;
    if (stale.state !== 'stale') throw new Error(stale.state);
    expect(stale.stale[0]?.because).toEqual([
      { path: 'limits.lambda-limit.least', before: undefined, after: null },
      { path: 'limits.lambda-limit.most', before: undefined, after: 0.95 },
      { path: 'limits.lambda-limit.reason', before: undefined, after: 'r' },
    ]);
    expect(viewOf('design', ready, { signatures }).state.state).toBe('signed');
    const signedSet = signDesign(set);
    expect(viewOf('design', set, { signatures: signedSet }).state.state).toBe('signed');
    for (const [moved, change] of [
      [limit('lambda-limit', 0.99), { path: 'limits.lambda-limit.most', before: 0.95, after: 0.99 }],
      [limit('lambda-limit', 0.95, 'q'), { path: 'limits.lambda-limit.reason', before: 'r', after: 'q' }],
      [
        { ...limit('lambda-limit', Number.NaN) },
        { path: 'limits.lambda-limit.most', before: 0.95, after: 'not a number' },
      ],
    ] as const) {
      const { state } = viewOf('design', { ...ready, ...moved }, { signatures: signedSet });
      expect(state).toMatchObject({ state: 'stale', stale: [{ because: [change] }, { because: [change] }] });
    }
  });

  it('a limit of a rule of another gate, or of no rule, does not touch it', () => {
    const signatures = signDesign();
    const set = { ...ready, ...limit('joint-limit', 0.5), ...limit('no-such-rule', 1) };
    expect(viewOf('design', set, { signatures }).state.state).toBe('signed');
  });

  it('a limit that cannot be used holds the gate', () => {
    const set = { ...ready, 'limits.lambda-limit': 1, 'limits.lambda-limit.most': 2 };
    expect(viewOf('design', set).state).toMatchObject({
      state: 'open',
      blockers: [{ kind: 'rule', verdict: 'lambda-limit/job', status: 'unknown' }],
    });
  });

  it('an own material that is used makes it stale when it changes; one that is not does not', () => {
    const made = inventedRule({ id: 'made-of', gate: 'design', branches: ['tube', 'materials'] }, () => ({
      job: at('x', 0),
    }));
    const some = [...rules, made];
    const own = {
      ...ready,
      'tube.alloy': 'lot7',
      'materials.lot7': 1,
      'materials.lot7.points.a': 1,
      'materials.lot7.points.a.yield': 3e8,
      'materials.spare': 2,
      'materials.spare.density': 8000,
    };
    const signatures = (['designer', 'lead'] as const).map((role) =>
      inventedSignature('design', { spec: specOf(own), rules: some }, { id: role, role, account: role }),
    );
    const standing = (content: Readonly<Record<string, unknown>>) =>
      viewOf('design', content, { signatures, rules: some });
    expect(standing(own).state.state).toBe('signed');
    expect(standing({ ...own, 'materials.spare.density': 7000, 'materials.third': 3 }).state.state).toBe('signed');
    expect(standing({ ...own, 'materials.lot7.points.a.yield': 2e8 }).state).toMatchObject({
      state: 'stale',
      stale: [{ because: [{ path: 'materials.lot7.points.a.yield', before: 3e8, after: 2e8 }] }, {}],
    });
    expect(standing({ ...own, 'materials.lot7.source': 'another' }).state).toMatchObject({
      stale: [{ because: [{ path: 'materials.lot7.source', before: null, after: 'another' }] }, {}],
    });
  });

  it('another rule set makes every signature stale, though no fact moved', () => {
    const state = viewOf('design', ready, { signatures: signDesign(), ruleSet: 2 }).state;
    expect(state).toMatchObject({
      state: 'stale',
      stale: [
        { because: [], ruleSet: 1 },
        { because: [], ruleSet: 1 },
      ],
    });
  });

  it('the last word of a role counts: an earlier one is neither stale nor current', () => {
    const moved = { ...ready, 'engine.lambda': 0.95 };
    const signatures = [...signDesign(), signature('design', 'designer', 'ann', moved)];
    const state = viewOf('design', moved, { signatures }).state;
    expect(state).toMatchObject({
      state: 'stale',
      stale: [{ signature: { role: 'lead' } }],
      current: [{ role: 'designer' }],
    });
  });

  it('one account counts for one role, whatever the record holds', () => {
    const signatures = [signature('design', 'designer', 'ann', ready), signature('design', 'lead', 'ann', ready)];
    expect(viewOf('design', ready, { signatures }).state).toMatchObject({ state: 'ready', awaiting: ['lead'] });
  });

  it('a signature in a role the gate does not ask for says nothing', () => {
    const odd = signature('design', 'welder', 'eve', { ...ready, 'engine.lambda': 0.7 });
    expect(viewOf('design', ready, { signatures: [odd, ...signDesign()] }).state.state).toBe('signed');
  });

  it('what lies before must be signed, also across gates that are not in force', () => {
    const content = { ...ready, ...tick('weld'), 'joints.j': 1, 'joints.j.voltage': undefined };
    const some = [lambda, weldFine];
    expect(viewOf('weld', content, { rules: some }).state).toEqual({
      state: 'open',
      current: [],
      blockers: [{ kind: 'gate', gate: 'design' }],
    });
    // Design is not signed while its own rule fails.
    const failing = { ...content, 'engine.lambda': 1.2 };
    expect(viewOf('weld', failing, { rules: some }).state).toMatchObject({
      blockers: [{ kind: 'gate', gate: 'design' }],
    });
    expect(viewOf('weld', content, { rules: some.slice(1) }).state.state).toBe('ready');
  });

  describe('the route', () => {
    const print = inventedRule({ id: 'print-fine', gate: 'print-release', branches: ['engine'] }, () => ({
      job: at('x', 0),
    }));
    const cut = inventedRule({ id: 'cut-fine', gate: 'cut-release', branches: ['engine'] }, () => ({
      job: at('x', 0),
    }));
    const asPrinted = inventedRule({ id: 'bore-fine', gate: 'as-printed', branches: ['engine'] }, () => ({
      job: at('x', 2),
    }));
    const some = [lambda, print, cut, asPrinted, weldFine];
    const content = (made: string | undefined) => ({ ...ready, ...tick('weld'), 'route.made': made });
    const stateOn = (gate: GateId, made: string | undefined, signatures: readonly Signature[] = []) =>
      viewOf(gate, content(made), { rules: some, signatures }).state;
    const off = { state: 'not-in-force', offRoute: true };

    it.each([
      ['printed', ['cut-release']],
      ['fabricated', ['print-release', 'as-printed']],
      ['both', []],
      [undefined, []],
      ['cast', []],
    ] as const)('%s leaves out %j', (made, left) => {
      const out = gates.map((g) => g.id).filter((gate) => 'offRoute' in stateOn(gate, made));
      expect(out).toEqual(gates.map((g) => g.id).filter((gate) => left.some((one) => one === gate)));
      for (const gate of left) expect(stateOn(gate, made)).toEqual(off);
    });

    it.each([
      // What is left out hands on to design, as a gate without checks does.
      ['printed', ['as-printed', 'design']],
      ['fabricated', ['design', 'cut-release']],
      ['both', ['as-printed', 'cut-release']],
      [undefined, ['as-printed', 'cut-release']],
    ] as const)('%s: the weld waits for %j', (made, waits) => {
      expect(stateOn('weld', made)).toMatchObject({
        state: 'open',
        blockers: waits.map((gate) => ({ kind: 'gate', gate })),
      });
    });

    it('what stands before a gate that is left out is still asked for', () => {
      const only = [lambda, cut, weldFine];
      const seen = (made: string) => viewOf('weld', content(made), { rules: only }).state;
      expect(seen('printed')).toMatchObject({ blockers: [{ kind: 'gate', gate: 'design' }] });
      // With the way to cutting open the first demand is the cut itself; the printed side hands on to design.
      expect(seen('both')).toMatchObject({
        blockers: [
          { kind: 'gate', gate: 'design' },
          { kind: 'gate', gate: 'cut-release' },
        ],
      });
    });

    it('a gate left out cannot be signed, and its old signatures stand again when the route comes back', () => {
      const sign = (gate: GateId, role: Role, account: string): Signature => {
        const facts = { spec: specOf(content('fabricated')), rules: some };
        return inventedSignature(gate, facts, { id: `${gate} ${role}`, role, account });
      };
      const ticked = { ...content('fabricated'), ...tick('cut-release') };
      const signatures = [
        sign('design', 'designer', 'ann'),
        sign('design', 'lead', 'bob'),
        inventedSignature(
          'cut-release',
          { spec: specOf(ticked), rules: some },
          { id: 'c1', role: 'lead', account: 'bob' },
        ),
        inventedSignature(
          'cut-release',
          { spec: specOf(ticked), rules: some },
          { id: 'c2', role: 'welder', account: 'cid' },
        ),
      ];
      const on = (made: string) =>
        viewOf('cut-release', { ...ticked, 'route.made': made }, { rules: some, signatures });
      expect(on('fabricated').state.state).toBe('signed');
      const left = on('printed');
      expect(left.state).toEqual(off);
      const wish = { digest: left.digest, role: 'lead', account: 'bob', held: ['lead'] } as const;
      expect(maySign(left, wish)).toMatchObject({ ok: false, code: 'not-ready' });
      expect(on('both').state.state).toBe('signed');
    });
  });

  it('a signed gate whose earlier hold gate goes stale is stale with it, keeps its signatures and is signed again after', () => {
    const some = [lambda, weldFine];
    const content = { ...ready, ...tick('weld') };
    const sign = (gate: GateId, role: Role, account: string): Signature =>
      inventedSignature(gate, { spec: specOf(content), rules: some }, { id: `${gate} ${role}`, role, account });
    const signatures = [
      sign('design', 'designer', 'ann'),
      sign('design', 'lead', 'bob'),
      sign('weld', 'welder', 'cid'),
      sign('weld', 'lead', 'bob'),
    ];
    expect(viewOf('weld', content, { rules: some, signatures }).state.state).toBe('signed');
    const moved = { ...content, 'engine.lambda': 0.95 };
    expect(viewOf('weld', moved, { rules: some, signatures }).state).toMatchObject({
      state: 'stale',
      stale: [],
      upstream: ['design'],
      current: [{ account: 'cid' }, { account: 'bob' }],
      blockers: [{ kind: 'gate', gate: 'design' }],
    });
    const anew = (role: Role, account: string): Signature =>
      inventedSignature('design', { spec: specOf(moved), rules: some }, { id: `anew ${role}`, role, account });
    const again = [...signatures, anew('designer', 'ann'), anew('lead', 'bob')];
    expect(viewOf('weld', moved, { rules: some, signatures: again }).state).toMatchObject({
      state: 'signed',
      current: [{ account: 'cid' }, { account: 'bob' }],
    });
  });
});
