import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gateRow } from '../../shared/gates/gates.ts';
import { defaultPlan, planDigest } from '../../shared/gates/plan.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import {
  type LiveAnswer,
  type LivePerson,
  type LiveServer,
  livePassword,
  liveServer,
  signableEntries,
} from '../../tests/support/live.ts';
import { signOver } from '../../tests/support/signing.ts';
import type { SignOff } from '../storage/ports.ts';
import { verifyChain } from './chain.ts';
import { nodeSha256 } from './signatures.ts';
import { signatureOf } from './statement.ts';

let live: LiveServer;
let ann: LivePerson;
let bob: LivePerson;
let rita: LivePerson;
beforeAll(async () => {
  live = await liveServer();
  [ann, bob, rita] = await Promise.all([live.person('ann'), live.person('bob'), live.person('rita')]);
});
afterAll(() => live.close());

/** Signatures of the scan gate, which comes first. */
const before = 2;

/** A project whose scan gate is signed and whose design gate lacks only signatures. `ann` is lead and designer, `bob` designer and scanner. */
async function ready(photos: readonly string[] = []): Promise<string> {
  const entries = signableEntries();
  for (const name of ['scan', 'design'] as const)
    for (const item of gateRow(name).items)
      entries.set(`ticks.${name}.${item.id}`, { done: true, note: '', by: ann.account.id });
  if (photos.length > 0) entries.set('ticks.design.route-agreed', { done: true, note: '', by: ann.account.id, photos });
  const roles = { ann: ['lead', 'designer'], bob: ['designer', 'scanner'], rita: ['reviewer'] } as const;
  const project = await live.project(roles, entries);
  for (const [who, role] of [
    [bob, 'scanner'],
    [ann, 'lead'],
  ] as const)
    expect(await sign(project, who, { role }, 'scan')).toMatchObject({ status: 201 });
  return project;
}

async function gate(project: string, name = 'design'): Promise<GateView> {
  const { body } = await live.http(ann, 'GET', `/api/projects/${project}/gates`);
  const view = (body.gates as readonly GateView[]).find((g) => g.gate === name);
  if (!view) throw new Error(`no ${name} gate`);
  return view;
}

async function sign(
  project: string,
  who: LivePerson,
  over: Record<string, unknown> = {},
  name = 'design',
): Promise<LiveAnswer> {
  const { digest } = await gate(project, name);
  const role = who === bob ? 'designer' : 'lead';
  const request = { role, digest, ruleSet: RULE_SET, meaning: 'released', password: livePassword, ...over };
  return signOver(live.http, who, { project, gate: name }, request);
}

it('offers nothing that names a photo the job does not hold', async () => {
  const project = await ready(['ab'.repeat(32)]);
  const answer = await sign(project, ann);
  expect(answer).toMatchObject({ status: 409, body: { code: 'gate-held' } });
  expect(answer.body.detail).toContain('photo abababababababab is not');
  const { body } = await live.http(ann, 'GET', `/api/projects/${project}/signatures`);
  expect(body.signatures).toHaveLength(before);
});

/** What is read before it is signed, and how it is signed then. */
async function offer(project: string, who: LivePerson, over: Record<string, unknown> = {}) {
  const { digest } = await gate(project);
  const role = who === bob ? 'designer' : 'lead';
  const request = { role, digest, ruleSet: RULE_SET, meaning: 'released', initials: 'N.N.', confirmedBy: 'password' };
  const base = `/api/projects/${project}/gates/design`;
  const answer = await live.http(who, 'POST', `${base}/challenge`, { ...request, ...over });
  return {
    answer,
    sign: (by = who, more: Record<string, unknown> = { password: livePassword }, at = base) =>
      live.http(by, 'POST', `${at}/signatures`, { nonce: answer.body.nonce, ...more }),
  };
}

/** The whole chain, and of it the signatures of the design gate. */
async function record(
  project: string,
): Promise<{ rows: SignOff[]; signatures: SignOff[]; chain: { ok: boolean; rows?: number } }> {
  const { body } = await live.http(rita, 'GET', `/api/projects/${project}/signatures`);
  const { signatures: rows, chain } = body as unknown as {
    signatures: SignOff[];
    chain: { ok: boolean; rows?: number };
  };
  return { rows, signatures: rows.filter((row) => row.gate === 'design'), chain };
}

describe('signing a gate', () => {
  it('takes one signature of each role, then the gate is signed and everybody hears of it', async () => {
    const project = await ready();
    const feed = live.feed(rita, project);
    await feed.joined();
    const heard = () => feed.gates().find((g) => g.gate === 'design')?.state.state;
    expect((await gate(project)).state).toMatchObject({ state: 'ready', awaiting: ['designer', 'lead'] });
    expect(await sign(project, ann)).toMatchObject({ status: 201, body: { seq: before + 1 } });
    expect(await sign(project, bob)).toMatchObject({ status: 201, body: { seq: before + 2 } });
    await live.signal.until(() => heard() === 'signed', 'the signed gate at a reader');
    const { signatures, chain } = await record(project);
    expect(chain).toMatchObject({ ok: true, rows: before + 2 });
    expect(signatures.map((row) => signatureOf(row).role)).toEqual(['lead', 'designer']);
  });

  it('keeps the whole statement: facts with units, verdicts, who, in which role, as what, when', async () => {
    const project = await ready();
    await sign(project, ann, { meaning: 'witnessed' });
    const statement = JSON.parse((await record(project)).signatures[0]?.statement ?? '{}');
    expect(statement).toMatchObject({
      ...{ version: 2, kind: 'signature', project, gate: 'design', meaning: 'witnessed', ruleSet: RULE_SET },
      ...{ seq: 1, plan: planDigest(defaultPlan), concessions: [] },
      signer: { account: ann.account.id, name: 'Name of ann', role: 'lead', confirmedBy: 'password' },
      facts: { 'stud.torque': 20, 'tube.alloy': '625', 'ticks.design.route-agreed.done': true },
      units: { 'tube.wall': 'm', 'engine.exhaustPressure': 'Pa' },
    });
    expect(Object.keys(statement.units)).not.toContain('tube.alloy');
    expect(statement.verdicts.length).toBeGreaterThan(8);
    expect(Date.parse(statement.at)).toBeGreaterThan(0);
  });

  it('refuses, each with its own code, and writes nothing', async () => {
    const project = await ready();
    const cases: readonly (readonly [string, number, string, LivePerson, Record<string, unknown>])[] = [
      ['a wrong password', 403, 'wrong-password', ann, { password: 'something else entirely' }],
      ['a role not held', 403, 'wrong-role', bob, { role: 'lead' }],
      ['a role the gate does not ask for', 403, 'wrong-role', rita, { role: 'reviewer' }],
      ['other facts', 409, 'facts-moved', ann, { digest: '0'.repeat(64) }],
      ['another rule set', 409, 'facts-moved', ann, { ruleSet: RULE_SET + 1 }],
      ['a digest that is none', 400, 'bad-request', ann, { digest: 'x' }],
      ['a meaning that is none', 400, 'bad-request', ann, { meaning: 'maybe' }],
      ['a member too many', 400, 'bad-request', ann, { more: 1 }],
    ];
    for (const [name, status, code, who, over] of cases)
      expect(await sign(project, who, over), name).toMatchObject({ status, body: { code } });
    const { digest } = await gate(project);
    const request = { role: 'lead', digest, ruleSet: RULE_SET, meaning: 'released', password: livePassword };
    const answer = (who: LivePerson | null, gate: string) => signOver(live.http, who, { project, gate }, request);
    expect(await answer(ann, 'nothing')).toMatchObject({ status: 404 });
    expect(await answer(null, 'design')).toMatchObject({ status: 401 });
    expect(await answer(await live.person('otto'), 'design')).toMatchObject({ status: 404 });
    expect((await record(project)).signatures).toEqual([]);
  });

  it('refuses a second signature in the same role, and one person in two roles', async () => {
    const project = await ready();
    await sign(project, ann);
    expect(await sign(project, ann)).toMatchObject({ status: 409, body: { code: 'already-signed' } });
    expect(await sign(project, ann, { role: 'designer' })).toMatchObject({
      status: 409,
      body: { code: 'same-person' },
    });
    expect((await record(project)).signatures).toHaveLength(1);
  });

  it('refuses while something holds the gate, and facts that moved after the signer looked', async () => {
    const project = await ready();
    const spec = live.document(ann, project);
    await spec.synced();
    const { digest } = await gate(project);
    spec.set('stud.torque', 21);
    await spec.kept();
    expect(await sign(project, ann, { digest })).toMatchObject({ status: 409, body: { code: 'facts-moved' } });
    spec.set('stud.torque', 1);
    await spec.kept();
    expect(await sign(project, ann)).toMatchObject({ status: 409, body: { code: 'gate-held' } });
    expect((await record(project)).signatures).toEqual([]);
  });

  it('goes stale by an edit, says which fact moved, and is current again by undoing it', async () => {
    const project = await ready();
    await sign(project, ann);
    await sign(project, bob);
    const spec = live.document(bob, project);
    const feed = live.feed(rita, project);
    await Promise.all([spec.synced(), feed.joined()]);
    const heard = () => feed.gates().find((g) => g.gate === 'design')?.state;
    expect(heard()?.state).toBe('signed');
    spec.set('stud.torque', 21);
    await live.signal.until(() => heard()?.state === 'stale', 'the stale gate');
    expect(heard()).toMatchObject({
      stale: [{ because: [{ path: 'stud.torque', before: 20, after: 21 }] }, { because: [{ path: 'stud.torque' }] }],
    });
    spec.set('stud.torque', 20);
    await live.signal.until(() => heard()?.state === 'signed', 'the signed gate again');
    expect((await record(project)).signatures).toHaveLength(2);
  });

  it('of two who sign at the same moment lets the second read again, and keeps one unbroken chain', async () => {
    const project = await ready();
    const [one, other] = await Promise.all([offer(project, ann), offer(project, bob)]);
    const answers = await Promise.all([one.sign(), other.sign()]);
    expect(answers.map((a) => a.status).sort()).toEqual([201, 409]);
    const late = answers.find((a) => a.status === 409);
    expect(late).toMatchObject({ body: { code: 'record-moved' } });
    expect(await sign(project, late === answers[0] ? ann : bob)).toMatchObject({ status: 201 });
    const { signatures, chain } = await record(project);
    expect(signatures.map((s) => s.seq)).toEqual([before + 1, before + 2]);
    expect(chain).toMatchObject({ ok: true, rows: before + 2 });
  });

  it('takes one of many tries of the same person at the same moment, in whatever roles', async () => {
    const project = await ready();
    const answers = await Promise.all(
      ['lead', 'designer', 'lead', 'designer'].map((role) => sign(project, ann, { role })),
    );
    expect(answers.filter((a) => a.status === 201)).toHaveLength(1);
    expect((await record(project)).signatures).toHaveLength(1);
  });

  it('signs nothing on top of a record that was tampered with', async () => {
    const project = await ready();
    await sign(project, ann);
    const rows = await live.server.store.records.signOffs(project);
    const row = rows.at(-1);
    if (!row) throw new Error('no row');
    const forged = {
      ...row,
      id: 'forged',
      seq: before + 2,
      previousHash: row.hash,
      statement: row.statement.replace('20', '30'),
    };
    const head = (await live.server.store.records.heads(project)).at(-1);
    if (!head) throw new Error('no head');
    expect(await live.server.store.records.appendSignOff(forged, { ...head, size: before + 2 })).toBe('appended');
    expect((await record(project)).chain).toMatchObject({ ok: false, seq: before + 2 });
    expect(await sign(project, bob)).toMatchObject({ status: 500 });
    expect((await record(project)).signatures).toHaveLength(2);
  });
});

describe('what is read before it is signed', () => {
  it('is byte for byte what stands in the record then', async () => {
    const project = await ready();
    const { answer, sign: confirm } = await offer(project, ann);
    expect(answer.body.sha256).toBe(nodeSha256.ofText(String(answer.body.statement)));
    expect(await confirm()).toMatchObject({ status: 201 });
    const [row] = (await record(project)).signatures;
    expect(row?.statement).toBe(answer.body.statement);
    expect(JSON.parse(row?.statement ?? '')).toMatchObject({ initials: 'N.N.', nonce: answer.body.nonce });
  });

  it('is signed once: a second time, by another person, in another session or at another gate it is gone', async () => {
    const project = await ready();
    const { sign: confirm } = await offer(project, ann);
    const gone = { status: 410, body: { code: 'offer-gone' } };
    expect(await confirm(bob)).toMatchObject(gone);
    expect(await confirm(ann, { password: livePassword }, `/api/projects/${project}/gates/scan`)).toMatchObject(gone);
    const again = await live.server.auth.signIn({ login: 'ann', password: livePassword, address: 'elsewhere' });
    if (again.kind !== 'signed-in') throw new Error(again.kind);
    const elsewhere = { account: ann.account, cookie: again.cookie.split(';')[0] ?? '' };
    expect(await confirm(elsewhere)).toMatchObject(gone);
    expect(await confirm(ann, { password: 'not mine at all' })).toMatchObject({ status: 403 });
    expect(await confirm(ann, {})).toMatchObject({ status: 400 });
    const both = await Promise.all([confirm(), confirm()]);
    expect(both.map((a) => a.status).sort()).toEqual([201, 410]);
    expect(await confirm()).toMatchObject(gone);
    expect((await record(project)).signatures).toHaveLength(1);
  });

  it('is refused once facts have moved, and bears edits of others', async () => {
    const project = await ready();
    const spec = live.document(ann, project);
    await spec.synced();
    const moved = await offer(project, ann);
    spec.set('stud.torque', 19.5);
    await spec.kept();
    expect(await moved.sign()).toMatchObject({ status: 409, body: { code: 'facts-moved' } });
    const other = await offer(project, ann);
    spec.set('joints.j1.current', 51);
    await spec.kept();
    expect(await other.sign()).toMatchObject({ status: 201 });
    const [row] = (await record(project)).signatures;
    expect(row?.statement).toBe(other.answer.body.statement);
  });

  it('asks for initials, and for a passkey only where there is one', async () => {
    const project = await ready();
    for (const initials of ['', '   ', 'much too long', '<b>', '12'])
      expect((await offer(project, ann, { initials })).answer, initials).toMatchObject({ status: 400 });
    expect((await offer(project, ann, { confirmedBy: 'passkey' })).answer).toMatchObject({
      ...{ status: 403, body: { code: 'passkey-refused' } },
    });
  });
});

describe('chain of sign-offs', () => {
  it('shows every row that was changed, dropped, swapped or put in, column by column and byte by byte', async () => {
    const project = await ready();
    const spec = live.document(ann, project);
    await spec.synced();
    for (const torque of [19.7, 19.8, 19.9, 20]) {
      spec.set('stud.torque', torque);
      await spec.kept();
      expect((await sign(project, ann)).status).toBe(201);
    }
    const { rows } = await record(project);
    expect(verifyChain(project, rows)).toMatchObject({ ok: true, rows: before + 4, head: rows.at(-1)?.hash });
    expect(verifyChain(project, [])).toMatchObject({ ok: true, rows: 0 });
    const broken = (changed: readonly SignOff[]) => verifyChain(project, changed).ok === false;
    expect(verifyChain('other', rows).ok).toBe(false);
    for (const [i, row] of rows.entries()) {
      const put = (over: Partial<SignOff>) => rows.map((r, k) => (k === i ? { ...r, ...over } : r));
      for (const over of [{ gate: 'weld' }, { seq: 9 }, { accountId: 'x' }, { createdAt: 'x' }, { projectId: 'x' }])
        expect(broken(put(over)), JSON.stringify(over)).toBe(true);
      if (i < rows.length - 1) expect(broken(rows.filter((_, k) => k !== i))).toBe(true);
      expect(broken([...rows.slice(0, i), row, ...rows.slice(i)])).toBe(true);
      if (i > 0) expect(broken(rows.map((r, k) => (k === i ? (rows[i - 1] ?? r) : k === i - 1 ? row : r)))).toBe(true);
      // Every byte of the first; each row further on costs verifying those before it.
      for (const column of ['hash', 'previousHash', 'statement'] as const)
        for (let at = 0; at < row[column].length; at += i === 0 ? 1 : 211) {
          const flipped = String.fromCharCode(row[column].charCodeAt(at) ^ 1);
          const text = row[column].slice(0, at) + flipped + row[column].slice(at + 1);
          expect(broken(put({ [column]: text })), `${column} ${at}`).toBe(true);
        }
    }
  });
});
