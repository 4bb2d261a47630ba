import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { defaultPlan, type Plan } from '../../shared/gates/plan.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import type { PlanView } from '../../shared/protocol/plan.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import {
  type LivePerson,
  type LiveServer,
  livePassword,
  liveServer,
  signableEntries,
} from '../../tests/support/live.ts';
import { signOver } from '../../tests/support/signing.ts';

let live: LiveServer;
let ann: LivePerson;
let bob: LivePerson;
let otto: LivePerson;
beforeAll(async () => {
  live = await liveServer();
  [ann, bob, otto] = await Promise.all([live.person('ann'), live.person('bob'), live.person('otto')]);
});
afterAll(() => live.close());

const people = { ann: ['lead', 'designer'], bob: ['designer', 'scanner'] } as const;

/** A job whose ports step out by more than they may; `otto` is a stranger to it. */
async function job(step = 0.001): Promise<string> {
  const entries = signableEntries();
  entries.set('port.step', step);
  for (const { gate, items } of defaultPlan.slice(0, 2))
    for (const { id } of items) entries.set(`ticks.${gate}.${id}`, { done: true, note: '', by: ann.account.id });
  return live.project(people, entries);
}

const rowCount = async (project: string) => (await live.server.store.records.signOffs(project)).length;
const gateOf = async (project: string, name: string): Promise<GateView> => {
  const { body } = await live.http(ann, 'GET', `/api/projects/${project}/gates`);
  const view = (body.gates as readonly GateView[]).find((g) => g.gate === name);
  if (!view) throw new Error(`no ${name}`);
  return view;
};
const failing = async (project: string): Promise<Verdict> => {
  const feed = live.feed(ann, project);
  await feed.joined();
  const verdict = [...feed.verdicts().values()].find((v) => v.status === 'fail' && v.severity === 'block');
  feed.close();
  if (!verdict) throw new Error('nothing fails');
  return verdict;
};
async function signAll(project: string): Promise<void> {
  for (const [who, role, name] of [
    [bob, 'scanner', 'scan'],
    [ann, 'lead', 'scan'],
    [bob, 'designer', 'design'],
    [ann, 'lead', 'design'],
  ] as const) {
    const { digest } = await gateOf(project, name);
    const body = { role, digest, ruleSet: RULE_SET, meaning: 'released', password: livePassword };
    expect(await signOver(live.http, who, { project, gate: name }, body)).toMatchObject({ status: 201 });
  }
}

describe('the plan of a job', () => {
  const withoutDesigner: Plan = defaultPlan.map((row) => (row.gate === 'design' ? { ...row, signs: ['lead'] } : row));
  const body = (over: Record<string, unknown> = {}) => ({
    ...{ plan: withoutDesigner, reason: 'the lead drew it alone', replaces: null, password: livePassword, ...over },
  });
  const at = (project: string) => `/api/projects/${project}/plan`;
  const put = (project: string, who: LivePerson | null, over: Record<string, unknown> = {}) =>
    live.http(who, 'PUT', at(project), body(over));

  it('is the default until a lead puts another in force, and everybody hears of it', async () => {
    const project = await job(0.0002);
    expect((await live.http(bob, 'GET', at(project))).body).toMatchObject({ row: null, by: null, plan: defaultPlan });
    const feed = live.feed(bob, project);
    await feed.joined();
    expect(await put(project, ann)).toMatchObject({ status: 200, body: { seq: 1 } });
    await live.signal.until(() => feed.gates().find((g) => g.gate === 'design')?.signs.length === 1, 'the new plan');
    expect(feed.decided()?.plan).toMatchObject({ by: { name: 'Name of ann' }, reason: 'the lead drew it alone' });
    const { body: now } = await live.http(bob, 'GET', at(project));
    expect((now as unknown as PlanView).plan.find(({ gate }) => gate === 'design')?.signs).toEqual(['lead']);
  });

  it('makes stale what was signed by another one, and current again when it is taken back', async () => {
    const project = await job(0.0002);
    await signAll(project);
    expect((await gateOf(project, 'design')).state.state).toBe('signed');
    const { body: made } = await put(project, ann);
    const { state } = await gateOf(project, 'design');
    expect(state).toMatchObject({ state: 'stale', stale: [{ because: [{ path: 'plan.design.signs' }] }] });
    expect(
      await put(project, ann, { plan: defaultPlan, replaces: made.hash, reason: 'the designer is back' }),
    ).toMatchObject({ status: 200 });
    expect((await gateOf(project, 'design')).state.state).toBe('signed');
    const { body: record } = await live.http(ann, 'GET', `/api/projects/${project}/signatures`);
    expect(record).toMatchObject({ chain: { ok: true, rows: 6 } });
    expect(record.signatures).toHaveLength(4);
  });

  it('refuses, each with its own code, and writes nothing', async () => {
    const project = await job(0.0002);
    const bad = defaultPlan.map((row) => (row.gate === 'weld' ? { ...row, signs: [] } : row));
    const cases: readonly (readonly [string, number, string, LivePerson | null, Record<string, unknown>])[] = [
      ['nobody', 401, 'not-signed-in', null, {}],
      ['a stranger', 404, 'not-found', otto, {}],
      ['a member who is no lead', 403, 'wrong-role', bob, {}],
      ['a wrong password', 403, 'wrong-password', ann, { password: 'something else entirely' }],
      ['no reason', 400, 'bad-request', ann, { reason: '   short    ' }],
      ['a plan nobody can work by', 422, 'plan-refused', ann, { plan: bad }],
      ['a gate too few', 422, 'plan-refused', ann, { plan: defaultPlan.slice(1) }],
      ['no change', 422, 'plan-refused', ann, { plan: defaultPlan }],
      ['a plan that is no longer in force', 409, 'facts-moved', ann, { replaces: '0'.repeat(64) }],
      ['a role that is none', 400, 'bad-request', ann, { plan: [{ ...defaultPlan[0], signs: ['owner'] }] }],
      ['a member too many', 400, 'bad-request', ann, { more: 1 }],
    ];
    for (const [name, status, code, who, over] of cases)
      expect(await put(project, who, over), name).toMatchObject({ status, body: { code } });
    expect((await put(project, ann, { plan: bad })).body.detail).toBe('Weld: expected at least one signer, got none');
    expect(await rowCount(project)).toBe(0);
    const first = body();
    expect(await live.http(ann, 'PUT', at(project), first)).toMatchObject({ status: 200 });
    expect(await live.http(ann, 'PUT', at(project), first), 'replayed').toMatchObject({
      body: { code: 'facts-moved' },
    });
    expect(await rowCount(project)).toBe(1);
  });
});

describe('concessions', () => {
  const at = (project: string) => `/api/projects/${project}/concessions`;
  let made = 0;
  const wish = (verdict: Verdict, over: Record<string, unknown> = {}) => ({
    ...{
      id: `request${made++}x`,
      verdict: verdict.key,
      seen: verdict.digest,
      reason: 'bench test, no boost',
      expires: null,
    },
    ...{ password: livePassword, ...over },
  });
  const grant = async (project: string, over: Record<string, unknown> = {}, who: LivePerson | null = ann) =>
    live.http(who, 'POST', at(project), wish(await failing(project), over));
  const standing = async (project: string) => {
    const { body } = await live.http(bob, 'GET', at(project));
    return (body.concessions as readonly { standing: unknown }[]).map((one) => one.standing);
  };

  it('open a gate for exactly what was accepted, are signed with it, and lapse by themselves', async () => {
    const project = await job();
    const verdict = await failing(project);
    expect((await gateOf(project, 'design')).state).toMatchObject({
      blockers: [{ kind: 'rule', verdict: verdict.key }, {}],
    });
    expect(await grant(project)).toMatchObject({ status: 201, body: { seq: 1 } });
    await signAll(project);
    expect((await gateOf(project, 'design')).state.state).toBe('signed');
    const rows = await live.server.store.records.signOffs(project);
    expect(JSON.parse(rows.at(-1)?.statement ?? '')).toMatchObject({
      concessions: [{ id: (await gateOf(project, 'design')).concessions[0], hash: rows[0]?.hash }],
    });
    const spec = live.document(ann, project);
    await spec.synced();
    spec.set('port.step', 0.0012);
    await spec.kept();
    expect((await gateOf(project, 'design')).state).toMatchObject({
      ...{ state: 'stale', blockers: [{ verdict: verdict.key, lapsed: { because: 'worse' } }] },
    });
    expect(await standing(project)).toEqual([{ standing: 'lapsed', because: 'worse' }]);
    spec.set('port.step', 0.001);
    await spec.kept();
    expect((await gateOf(project, 'design')).state.state).toBe('signed');
    spec.set('port.step', 0.0002);
    await spec.kept();
    expect(await standing(project)).toEqual([{ standing: 'lapsed', because: 'unneeded' }]);
  });

  it('can be ended, which makes stale what rests on them', async () => {
    const project = await job();
    const { body } = await grant(project);
    await signAll(project);
    const end = (over: Record<string, unknown> = {}, who: LivePerson | null = ann, id = String(body.concession)) =>
      live.http(who, 'POST', `${at(project)}/${id}/end`, {
        reason: 'boost is on now',
        password: livePassword,
        ...over,
      });
    expect(await end({}, bob)).toMatchObject({ status: 403, body: { code: 'wrong-role' } });
    expect(await end({}, otto)).toMatchObject({ status: 404 });
    expect(await end({ password: 'not mine at all' })).toMatchObject({ status: 403, body: { code: 'wrong-password' } });
    expect(await end({ reason: 'no' })).toMatchObject({ status: 400 });
    expect(await end({}, ann, 'nothing00')).toMatchObject({ status: 404 });
    expect(await rowCount(project)).toBe(5);
    expect(await end()).toMatchObject({ status: 201, body: { seq: 6 } });
    expect(await end(), 'replayed').toMatchObject({ status: 409, body: { code: 'already-over' } });
    const path = `concessions.${String(body.concession)}`;
    expect((await gateOf(project, 'design')).state).toMatchObject({
      state: 'stale',
      stale: [{ because: [{ path }] }, {}],
    });
    expect(await rowCount(project)).toBe(6);
  });

  it('refuses, each with its own code, and writes nothing', async () => {
    const project = await job();
    const passing = { verdict: 'stud-preload/studs', seen: '0'.repeat(16) };
    const cases: readonly (readonly [string, number, string, LivePerson | null, Record<string, unknown>])[] = [
      ['nobody', 401, 'not-signed-in', null, {}],
      ['a stranger', 404, 'not-found', otto, {}],
      ['a member who is no lead', 403, 'wrong-role', bob, {}],
      ['a wrong password', 403, 'wrong-password', ann, { password: 'something else entirely' }],
      ['a reason that says nothing', 400, 'bad-request', ann, { reason: 'ok' }],
      ['an end that is over', 409, 'already-over', ann, { expires: '2020-01-01T00:00:00.000Z' }],
      ['an end that is no time', 400, 'bad-request', ann, { expires: 'tomorrow' }],
      ['a check that is not there', 409, 'nothing-to-accept', ann, { verdict: 'no-such/job' }],
      ['a value that is inside its limit', 409, 'nothing-to-accept', ann, passing],
      ['another value than is there now', 409, 'facts-moved', ann, { seen: '0'.repeat(16) }],
    ];
    for (const [name, status, code, who, over] of cases)
      expect(await grant(project, over, who), name).toMatchObject({ status, body: { code } });
    expect(await rowCount(project)).toBe(0);
    const first = wish(await failing(project));
    expect(await live.http(ann, 'POST', at(project), first)).toMatchObject({ status: 201 });
    expect(await live.http(ann, 'POST', at(project), first), 'replayed').toMatchObject({ status: 409 });
    expect(await grant(project), 'a second for the same').toMatchObject({
      status: 409,
      body: { code: 'already-accepted' },
    });
    expect(await rowCount(project)).toBe(1);
  });

  it('an unknown cannot be accepted', async () => {
    const entries = signableEntries();
    entries.delete('stud.torque');
    const project = await live.project(people, entries);
    const feed = live.feed(ann, project);
    await feed.joined();
    const verdict = [...feed.verdicts().values()].find((v) => v.rule === 'stud-preload');
    if (verdict?.status !== 'unknown') throw new Error('expected an unknown');
    expect(await live.http(ann, 'POST', at(project), wish(verdict))).toMatchObject({
      ...{ status: 409, body: { code: 'nothing-to-accept' } },
    });
  });
});
