import { describe, expect, it } from 'vitest';
import type { Verdict } from '../rules/verdict.ts';
import { gateIds } from '../spec/gateId.ts';
import type { ConcessionView } from './concession.ts';
import { gates } from './gates.ts';
import { defaultPlan } from './plan.ts';
import { ownerOf, type PunchInputs, type PunchThread, punchGroups, punchList, waitsFor } from './punchList.ts';
import type { GateState, GateView, SignatureView } from './readiness.ts';
import { roles } from './roles.ts';

const fail = (rule: string, gate: Verdict['gate']): Verdict => ({
  ...{ status: 'fail', measured: 2, limit: { kind: 'max', value: 1 }, margin: -1, severity: 'block' },
  ...{ key: `${rule}/one`, rule, gate, subject: { kind: 'job', id: 'one', name: 'One' }, digest: 'd' },
});
const unknown = (rule: string, gate: Verdict['gate'], why: unknown): Verdict =>
  ({ ...fail(rule, gate), status: 'unknown', why }) as Verdict;

const view = (gate: Verdict['gate'], state: GateState): GateView => {
  const row = gates.find(({ id }) => id === gate);
  return { gate, digest: 'x', point: 'hold', signs: row?.signs ?? [], twoPeople: true, concessions: [], state };
};
const held = (verdict: Verdict, more: object = {}) =>
  ({ kind: 'rule', verdict: verdict.key, status: verdict.status === 'fail' ? 'fail' : 'unknown', ...more }) as const;
const open = (gate: Verdict['gate'], blockers: Extract<GateState, { state: 'open' }>['blockers']) =>
  view(gate, { state: 'open', current: [], blockers });
const list = (over: Partial<PunchInputs>) =>
  punchList({ views: [], verdicts: [], plan: defaultPlan, concessions: [], threads: [], ...over });
const signed = (role: SignatureView['role']): SignatureView => ({
  ...{ id: role, gate: 'design', account: role, name: role, role, at: '', meaning: 'released', ruleSet: 1 },
  ...{ digest: 'd', hash: 'h' },
});

describe('punchList', () => {
  it('gives what fails to its owner, wherever it is in the work, and leads to it', () => {
    const verdict = fail('bend-tightness', 'design');
    const views = [open('design', [held(verdict), { kind: 'gate', gate: 'scan' }])];
    expect(list({ views, verdicts: [verdict] })).toEqual([
      {
        ...{ key: verdict.key, sort: 'fail', gate: 'design', turn: { kind: 'roles', roles: ['designer'] } },
        words: expect.stringMatching(/.+: One$/),
        place: { kind: 'verdict', verdict: verdict.key },
      },
    ]);
    const lapsed = [open('design', [held(verdict, { lapsed: { concession: 'c', because: 'worse' } })])];
    expect(list({ views: lapsed, verdicts: [verdict] })[0]?.words).toMatch(/worse than the concession for it allows/);
  });

  it('asks for what is missing only where the work has come to, and for nothing that is being measured', () => {
    const missing = unknown('leak-rate', 'install', { reason: 'missing', paths: ['leakTest.volume'] });
    const pending = unknown('torch-access', 'install', { reason: 'pending', job: 'j' });
    const blockers = [held(missing), held(pending), { kind: 'item', item: 'fire-watch', text: 'Fire watch' } as const];
    const now = list({ views: [open('install', blockers)], verdicts: [missing, pending] });
    expect(now.map(({ sort, place }) => [sort, place])).toEqual([
      ['unknown', { kind: 'field', path: 'leakTest.volume' }],
      ['item', { kind: 'item', gate: 'install', item: 'fire-watch' }],
    ]);
    const later = [open('install', [...blockers, { kind: 'gate', gate: 'weld' }])];
    expect(list({ views: later, verdicts: [missing, pending] })).toEqual([]);
    const silent = open('weld', [{ kind: 'rule', verdict: 'heat-input/subjects', status: 'unknown' }]);
    expect(list({ views: [silent] })).toMatchObject([
      { turn: { roles: ['welder'] }, place: { kind: 'gate', gate: 'weld' } },
    ]);
  });

  it('names the signatures that are missing or stale, once they can be given', () => {
    const ready = view('design', { state: 'ready', current: [signed('lead')], awaiting: ['designer'] });
    expect(list({ views: [ready] })).toMatchObject([{ sort: 'signature', turn: { roles: ['designer'] } }]);
    const stale = { state: 'stale', stale: [{ signature: signed('designer'), because: [] }], upstream: [] } as const;
    expect(list({ views: [view('design', { ...stale, current: [], blockers: [] })] }).map(({ key }) => key)).toEqual([
      'design designer stale',
      'design lead signature',
    ]);
    const shut = { ...stale, current: [], blockers: [{ kind: 'gate', gate: 'scan' }], upstream: ['scan'] } as const;
    expect(list({ views: [view('design', shut)] })).toEqual([]);
    expect(
      list({ views: [view('design', { state: 'signed', current: [] }), view('weld', { state: 'not-in-force' })] }),
    ).toEqual([]);
  });

  it('finds concessions that nothing needs any more', () => {
    const concession = { id: 'c1', title: 'A bend: One', gate: 'design' } as ConcessionView['concession'];
    const standing = (because: 'unneeded' | 'worse' | 'ended') => ({ standing: 'lapsed', because }) as const;
    expect(list({ concessions: [{ concession, standing: standing('unneeded') }] })).toMatchObject([
      { sort: 'concession', turn: { roles: ['lead'] }, words: expect.stringContaining('A bend: One') },
    ]);
    for (const because of ['worse', 'ended'] as const)
      expect(list({ concessions: [{ concession, standing: standing(because) }] })).toEqual([]);
  });

  it('hands an open markup to whoever did not have the last word', () => {
    const thread = (by: string, last: string, state: PunchThread['state'] = 'open'): PunchThread => ({
      ...{ id: 't', n: 3, by, state },
      comments: [
        { by, text: 'Why?' },
        { by: last, text: 'So.' },
      ],
    });
    const whose = (one: PunchThread, account: string) =>
      list({ threads: [one] }).map((entry) => waitsFor(entry, { account, roles: [] }));
    expect(whose(thread('ann', 'ann'), 'ann')).toEqual([false]);
    expect(whose(thread('ann', 'ann'), 'bob')).toEqual([true]);
    expect(whose(thread('ann', 'bob'), 'ann')).toEqual([true]);
    expect(whose(thread('ann', 'bob'), 'bob')).toEqual([false]);
    expect(whose(thread('ann', 'bob', 'resolved'), 'ann')).toEqual([]);
    expect(list({ threads: [thread('ann', 'bob')] })[0]).toMatchObject({
      words: 'Markup 3: somebody replied, close it out or go on',
      place: { thread: 't' },
    });
  });

  it('groups by the first role that may act, in the order of roles, markups last', () => {
    const verdict = fail('heat-input', 'weld');
    const views = [open('weld', [held(verdict), { kind: 'item', item: 'cleaned', text: 'Cleaned' }])];
    const threads = [{ id: 't', n: 1, by: 'a', state: 'open', comments: [] }] as const;
    const ready = view('scan', { state: 'ready', current: [], awaiting: ['scanner', 'lead'] });
    const all = list({ views: [ready, ...views], verdicts: [verdict], threads });
    expect(punchGroups(all).map(({ role, entries }) => [role, entries.length])).toEqual([
      ['lead', 1],
      ['scanner', 1],
      ['welder', 2],
      [null, 1],
    ]);
    expect(all.filter((entry) => waitsFor(entry, { account: 'a', roles: ['welder'] }))).toHaveLength(2);
  });

  it('knows an owner for every gate and keeps to it, but for checks that are another trade’s', () => {
    for (const gate of gateIds) expect(roles).toContain(ownerOf({ rule: 'any', gate }));
    expect(ownerOf({ rule: 'joint-gap', gate: 'fit-up' })).toBe('welder');
    expect(ownerOf({ rule: 'flange-flatness', gate: 'fit-up' })).toBe('machinist');
  });
});
