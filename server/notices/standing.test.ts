import { expect, it } from 'vitest';
import type { GateState, GateView, SignatureView } from '../../shared/gates/readiness.ts';
import type { Role } from '../../shared/gates/roles.ts';
import type { Thread } from '../../shared/markup/markup.ts';
import type { Participant } from '../storage/ports.ts';
import { standingNotices } from './standing.ts';

const person = (id: string, ...roles: Role[]): Participant => ({
  account: { id, login: id, name: `Name ${id}`, passwordHash: '', createdAt: '' },
  roles,
});
const people = [person('ann', 'lead'), person('bob', 'scanner'), person('cat', 'scanner', 'welder')];
const gate = (state: GateState): GateView => ({
  ...{ gate: 'scan', digest: 'd', point: 'hold', signs: ['scanner', 'lead'], twoPeople: true, concessions: [], state },
});
const signature = (account: string, role: Role): SignatureView => ({
  ...{ id: `s-${account}`, gate: 'scan', account, name: account, role, at: '', meaning: 'released', ruleSet: 1 },
  ...{ digest: 'd', hash: 'h' },
});
const thread = (over: Partial<Thread>): Thread => ({
  ...{ id: 't', n: 4, by: 'ann', anchor: { kind: 'place', at: [0, 0, 0] }, state: 'open', resolvedBy: null },
  ...{ comments: [{ id: '0', by: 'ann', text: 'look, @bob and @ann' }] },
  ...over,
});
const of = (gates: readonly GateView[], threads: readonly Thread[] = []) =>
  standingNotices({ gates, threads, people }).map(({ accountId, subject }) => `${accountId}: ${subject}`);

it('a ready gate waits for everybody who could sign there and has not', () => {
  expect(of([gate({ state: 'ready', current: [], awaiting: ['scanner', 'lead'] })])).toEqual([
    'bob: waits scan scanner',
    'cat: waits scan scanner',
    'ann: waits scan lead',
  ]);
  const signed = [signature('cat', 'scanner')];
  expect(of([gate({ state: 'ready', current: signed, awaiting: ['lead'] })])).toEqual(['ann: waits scan lead']);
  expect(of([gate({ state: 'open', current: [], blockers: [] }), gate({ state: 'signed', current: signed })])).toEqual(
    [],
  );
});

it('a stale signature is told to its signer while he is still in the role', () => {
  const because = [{ path: 'stud.torque', before: 20, after: 21 }];
  const stale = [signature('bob', 'scanner'), signature('ann', 'welder'), signature('gone', 'lead')].map((one) => ({
    ...{ signature: one, because },
  }));
  const view = gate({ state: 'stale', stale, current: [], blockers: [], upstream: [] });
  const [notice, ...others] = standingNotices({ gates: [view], threads: [], people });
  expect(others).toEqual([]);
  expect(notice).toMatchObject({ accountId: 'bob', kind: 'stale', place: { kind: 'gate', gate: 'scan' } });
  expect(notice?.words).toContain('1 fact has moved');
});

it('a remark is told to whom it names, but not to its writer, and not once it is resolved', () => {
  expect(of([], [thread({})])).toEqual(['bob: mention t 0']);
  expect(of([], [thread({ state: 'resolved' })])).toEqual([]);
  const answers = [{ id: '1', by: 'bob', text: '@Name cat: yours' }];
  expect(of([], [thread({ comments: answers })])).toEqual(['cat: mention t 1']);
});
