import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { verifyAuthenticationResponse } from '@simplewebauthn/server';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gateRow } from '../../shared/gates/gates.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import { type RecordFile, recordFileSchema } from '../../shared/record/recordFile.ts';
import { isSignature, readStatement, rowHash, statementText } from '../../shared/record/statement.ts';
import { verifyRecord } from '../../shared/record/verifyRecord.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import {
  type LivePerson,
  type LiveServer,
  livePassword,
  liveServer,
  signableEntries,
} from '../../tests/support/live.ts';
import { headSigner, recordHeads } from '../../tests/support/recordLog.ts';
import { type SoftAuthenticator, softAuthenticator } from '../../tests/support/softAuthenticator.ts';
import { verify } from '../cli/verify.ts';
import { nodeChecks, signatureHolds } from '../record/signatures.ts';

let live: LiveServer;
let ann: LivePerson;
let bob: LivePerson;
/** The name under which the server is opened: passkeys need one. */
let origin: string;
beforeAll(async () => {
  live = await liveServer();
  origin = live.origin.replace('127.0.0.1', 'localhost');
  [ann, bob] = await Promise.all([live.person('ann'), live.person('bob')]);
});
afterAll(() => live.close());

interface Answer {
  readonly status: number;
  readonly body: Record<string, unknown>;
}

async function ask(who: LivePerson, method: string, path: string, body?: unknown, from = origin): Promise<Answer> {
  const answer = await fetch(new URL(path, live.origin), {
    method,
    headers: { Origin: from, Cookie: who.cookie, 'Content-Type': 'application/json' },
    ...(body !== undefined && { body: JSON.stringify(body) }),
  });
  return { status: answer.status, body: Object(await answer.json().catch(() => ({}))) };
}

const keys = '/api/account/passkeys';

async function register(who: LivePerson, device: SoftAuthenticator, over = {}): Promise<Answer> {
  const options = await ask(who, 'POST', `${keys}/challenge`, { password: livePassword });
  expect(options.status).toBe(200);
  const response = device.registration(String(options.body.challenge), over);
  return ask(who, 'POST', keys, { name: 'shop phone', response });
}

/** A project whose scan gate is ready for ann as lead. */
async function ready(): Promise<string> {
  const entries = signableEntries();
  for (const item of gateRow('scan').items)
    entries.set(`ticks.scan.${item.id}`, { done: true, note: '', by: ann.account.id });
  return live.project({ ann: ['lead'], bob: ['scanner'] }, entries);
}

async function offer(project: string, who = ann): Promise<Answer> {
  const { body } = await ask(who, 'GET', `/api/projects/${project}/gates`);
  const digest = (body.gates as readonly GateView[]).find((g) => g.gate === 'scan')?.digest;
  return ask(who, 'POST', `/api/projects/${project}/gates/scan/challenge`, {
    ...{ role: 'lead', digest, ruleSet: RULE_SET, meaning: 'released', initials: 'A', confirmedBy: 'passkey' },
  });
}

const sign = (project: string, nonce: unknown, assertion: unknown, from = origin): Promise<Answer> =>
  ask(ann, 'POST', `/api/projects/${project}/gates/scan/signatures`, { nonce, assertion }, from);

const recordOf = async (project: string): Promise<RecordFile> =>
  recordFileSchema.parse((await ask(ann, 'GET', `/api/projects/${project}/record`)).body);

describe('registering a passkey', () => {
  it('asks for the password, takes what the device answers once, lists it and removes it', async () => {
    const device = softAuthenticator(origin);
    expect(await ask(bob, 'POST', `${keys}/challenge`, { password: 'not mine at all' })).toMatchObject({ status: 403 });
    const made = await register(bob, device);
    expect(made).toMatchObject({ status: 201, body: { id: device.credential, name: 'shop phone', rpId: 'localhost' } });
    expect((await ask(bob, 'GET', keys)).body.passkeys).toHaveLength(1);
    expect(await register(bob, device)).toMatchObject({ status: 403, body: { code: 'passkey-refused' } });
    expect(await ask(ann, 'DELETE', `${keys}/${device.credential}`)).toMatchObject({ status: 404 });
    expect(await ask(bob, 'DELETE', `${keys}/${device.credential}`)).toMatchObject({ status: 204 });
    expect((await ask(bob, 'GET', keys)).body.passkeys).toEqual([]);
  });

  it('refuses what does not hold, and an address that is no host name', async () => {
    const refused = { status: 403, body: { code: 'passkey-refused' } };
    for (const over of [
      { origin: 'https://elsewhere.example' },
      { rpId: 'elsewhere.example' },
      { flags: 1 },
      { type: 'webauthn.get' },
    ])
      expect(await register(bob, softAuthenticator(origin), over), JSON.stringify(over)).toMatchObject(refused);
    const stale = softAuthenticator(origin).registration('AAAA');
    expect(await ask(bob, 'POST', keys, { name: 'x', response: stale })).toMatchObject(refused);
    const byNumber = await ask(bob, 'POST', `${keys}/challenge`, { password: livePassword }, live.origin);
    expect(byNumber).toMatchObject({ ...refused, body: { detail: expect.stringContaining('host name') } });
  });
});

describe('signing with a passkey', () => {
  it.each(['ES256', 'RS256', 'EdDSA'] as const)(
    '%s: the answer stands in the row and is verified offline',
    async (alg) => {
      const project = await ready();
      const device = softAuthenticator(origin, alg);
      expect((await register(ann, device)).status).toBe(201);
      const { body } = await offer(project);
      expect(body).toMatchObject({ rpId: 'localhost', credentials: expect.arrayContaining([device.credential]) });
      expect(await sign(project, body.nonce, device.assertion(String(body.sha256)))).toMatchObject({ status: 201 });
      const record = await recordOf(project);
      expect(verifyRecord(record, { signatureHolds, ...nodeChecks })).toMatchObject({ ok: true, rows: 1 });
      // Without anything that could check the passkey the row is not taken on trust.
      expect(verifyRecord(record, { signatureHolds })).toMatchObject({ ok: false, kind: 'bad-signature', row: 1 });
      expect(JSON.parse(record.rows[0]?.statement ?? '')).toMatchObject({
        signer: { confirmedBy: 'passkey' },
        evidence: { credential: device.credential, origin, rpId: 'localhost', key: { alg } },
      });
    },
  );

  it('refuses every answer that does not hold, and signs nothing', async () => {
    const project = await ready();
    const device = softAuthenticator(origin);
    const other = softAuthenticator(origin);
    await register(ann, device);
    await register(bob, other);
    const { body } = await offer(project);
    const challenge = String(body.sha256);
    const good = device.assertion(challenge);
    const cases = {
      'another statement': device.assertion('0'.repeat(64)),
      'another person’s passkey': other.assertion(challenge),
      'another address': device.assertion(challenge, { origin: 'https://elsewhere.example' }),
      'another host': device.assertion(challenge, { rpId: 'elsewhere.example' }),
      'nobody verified': device.assertion(challenge, { flags: 1 }),
      'nobody there': device.assertion(challenge, { flags: 4 }),
      'a registration': device.assertion(challenge, { type: 'webauthn.create' }),
      'a page within a page': device.assertion(challenge, { crossOrigin: true }),
      'another key’s signature': { ...good, signature: other.assertion(challenge).signature },
      'cut data': { ...good, authenticatorData: good.authenticatorData.slice(0, 20) },
    };
    for (const [name, assertion] of Object.entries(cases))
      expect(await sign(project, body.nonce, assertion), name).toMatchObject({
        ...{ status: 403, body: { code: 'passkey-refused' } },
      });
    expect((await recordOf(project)).rows).toEqual([]);
    // A password cannot stand in for the passkey that the statement names.
    const path = `/api/projects/${project}/gates/scan/signatures`;
    expect(await ask(ann, 'POST', path, { nonce: body.nonce, password: livePassword })).toMatchObject({ status: 400 });
    expect(await sign(project, body.nonce, good)).toMatchObject({ status: 201 });
    expect(await sign(project, body.nonce, good)).toMatchObject({ status: 410 });
  });

  it('refuses a device whose counter falls back', async () => {
    const device = softAuthenticator(origin);
    await register(ann, device);
    const [one, two] = [await ready(), await ready()];
    const first = (await offer(one)).body;
    expect(await sign(one, first.nonce, device.assertion(String(first.sha256), { counter: 9 }))).toMatchObject({
      status: 201,
    });
    const second = (await offer(two)).body;
    expect(await sign(two, second.nonce, device.assertion(String(second.sha256), { counter: 9 }))).toMatchObject({
      ...{ status: 403, body: { code: 'passkey-refused' } },
    });
  });

  it('holds for another implementation, too', async () => {
    const device = softAuthenticator(origin);
    const challenge = 'ab'.repeat(32);
    const { credential, clientData, authenticatorData, signature } = device.assertion(challenge);
    const publicKey = new Uint8Array(
      Buffer.from(device.registration('').response.attestationObject, 'base64url'),
    ).slice(-77);
    const found = await verifyAuthenticationResponse({
      response: {
        ...{ id: credential, rawId: credential, type: 'public-key', clientExtensionResults: {} },
        response: { clientDataJSON: clientData, authenticatorData, signature },
      },
      expectedChallenge: Buffer.from(challenge, 'hex').toString('base64url'),
      ...{ expectedOrigin: origin, expectedRPID: 'localhost', requireUserVerification: true },
      credential: { id: credential, publicKey, counter: 0 },
    });
    expect(found.verified).toBe(true);
  });
});

describe('slipjoint verify', () => {
  it('names the row whose passkey does not hold, though chain and head were made anew around it', async () => {
    const project = await ready();
    const device = softAuthenticator(origin);
    await register(ann, device);
    const { body } = await offer(project);
    await sign(project, body.nonce, device.assertion(String(body.sha256)));
    const record = await recordOf(project);
    const folder = mkdtempSync(join(tmpdir(), 'slipjoint-'));
    const file = join(folder, 'record.json');
    const said: string[] = [];
    const out = { line: (text: string) => said.push(text), error: (text: string) => said.push(text) };
    const verified = async (one: RecordFile): Promise<number> => {
      writeFileSync(file, JSON.stringify(one));
      return verify([file], out as unknown as Parameters<typeof verify>[1]);
    };
    expect(await verified(record)).toBe(0);
    const statement = readStatement(record.rows[0]?.statement ?? '');
    if (!statement || !isSignature(statement) || statement.version !== 2 || !statement.evidence)
      throw new Error('no evidence');
    const { evidence } = statement;
    const signer = headSigner('44'.repeat(32));
    for (const forged of [
      { ...statement, meaning: 'witnessed' as const },
      { ...statement, signer: { ...statement.signer, name: 'Somebody' } },
      { ...statement, evidence: { ...evidence, origin: 'https://localhost' } },
      {
        ...statement,
        evidence: { ...evidence, signature: softAuthenticator(origin).assertion(String(body.sha256)).signature },
      },
      { ...statement, evidence: undefined },
      { ...statement, signer: { ...statement.signer, confirmedBy: 'password' as const } },
    ]) {
      const text = statementText(forged);
      const rows = [{ seq: 1, statement: text, hash: rowHash(forged.previous, text) }];
      const whole = { ...record, key: signer.key, rows, heads: recordHeads(project, rows, signer) };
      expect(await verified(whole)).toBe(2);
      expect(said.at(-1)).toMatch(/First fault at row 1 \(bad-signature\)/);
    }
    rmSync(folder, { recursive: true });
  });
});
