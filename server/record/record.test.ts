import { spawnSync } from 'node:child_process';
import { createHash, createPublicKey, verify as verifySignature } from 'node:crypto';
import { existsSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gateRow } from '../../shared/gates/gates.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import type { SignedHead } from '../../shared/record/head.ts';
import { type RecordFile, recordFileSchema, recordHeadSchema } from '../../shared/record/recordFile.ts';
import { verifyRecord } from '../../shared/record/verifyRecord.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import {
  type LivePerson,
  type LiveServer,
  livePassword,
  liveServer,
  signableEntries,
} from '../../tests/support/live.ts';
import { signOver } from '../../tests/support/signing.ts';
import { runCommand } from '../cli/cli.fixture.ts';
import { recordFile, recordHead } from './record.ts';
import { openRecordKey } from './recordKey.ts';
import { signatureHolds } from './signatures.ts';

let live: LiveServer;
let ann: LivePerson;
let bob: LivePerson;
beforeAll(async () => {
  live = await liveServer();
  [ann, bob] = await Promise.all([live.person('ann'), live.person('bob')]);
});
afterAll(() => live.close());

/** A project whose scan gate can be signed by bob as scanner and ann as lead. */
async function project(): Promise<string> {
  const entries = signableEntries();
  for (const item of gateRow('scan').items)
    entries.set(`ticks.scan.${item.id}`, { done: true, note: '', by: ann.account.id });
  return live.project({ ann: ['lead'], bob: ['scanner'], rita: ['reviewer'] }, entries);
}

async function sign(id: string, who: LivePerson): Promise<number> {
  const { body } = await live.http(ann, 'GET', `/api/projects/${id}/gates`);
  const gate = (body.gates as readonly GateView[]).find((g) => g.gate === 'scan');
  const role = who === bob ? 'scanner' : 'lead';
  const request = { role, digest: gate?.digest, ruleSet: RULE_SET, meaning: 'released', password: livePassword };
  return (await signOver(live.http, who, { project: id, gate: 'scan' }, request)).status;
}

const exported = async (id: string): Promise<RecordFile> =>
  recordFileSchema.parse((await live.http(bob, 'GET', `/api/projects/${id}/record`)).body);
const headOf = async (id: string): Promise<SignedHead | null> =>
  recordHeadSchema.parse((await live.http(bob, 'GET', `/api/projects/${id}/record/head`)).body).head;

/** The record checked anew from its description alone: node's crypto, recursion as the RFC words it, nothing of ours. */
function independent({ rows, heads, project: of }: RecordFile): string {
  const sha = (...parts: readonly (string | Uint8Array)[]) =>
    createHash('sha256')
      .update(Buffer.concat(parts.map((part) => Buffer.from(part))))
      .digest();
  const root = (leaves: readonly Buffer[]): Buffer => {
    if (leaves.length === 1) return sha(Uint8Array.of(0), leaves[0] ?? '');
    const split = 2 ** Math.floor(Math.log2(leaves.length - 1));
    return sha(Uint8Array.of(1), root(leaves.slice(0, split)), root(leaves.slice(split)));
  };
  let last = '0'.repeat(64);
  const hashes = rows.map(({ statement, hash }) => {
    last = sha(Uint8Array.of(0), last, statement).toString('hex');
    expect(last).toBe(hash);
    return Buffer.from(last, 'hex');
  });
  for (const head of heads) {
    expect(head).toMatchObject({
      root: root(hashes.slice(0, head.size)).toString('hex'),
      last: rows[head.size - 1]?.hash,
    });
    const said = {
      '': 'head of a record, version 1',
      at: head.at,
      last: head.last,
      project: of,
      root: head.root,
      size: head.size,
    };
    const x = Buffer.from(head.key, 'hex').toString('base64url');
    const key = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' });
    const signature = Buffer.from(head.signature, 'hex');
    expect(verifySignature(null, Buffer.from(JSON.stringify(said)), key, signature)).toBe(true);
  }
  return `${last} ${root(hashes).toString('hex')}`;
}

describe('the record of a project', () => {
  it('gains a row and its head with each signature, and verifies with nothing of ours', async () => {
    const id = await project();
    expect(await headOf(id)).toBeNull();
    expect(verifyRecord(await exported(id), { signatureHolds })).toMatchObject({ ok: true, rows: 0 });
    expect([await sign(id, bob), await sign(id, ann)]).toEqual([201, 201]);
    const record = await exported(id);
    expect(record.heads.map(({ size }) => size)).toEqual([1, 2]);
    expect(await headOf(id)).toEqual(record.heads[1]);
    expect(verifyRecord(record, { signatureHolds, keys: [record.key] })).toMatchObject({ ok: true, rows: 2 });
    expect(independent(record)).toBe(`${record.rows[1]?.hash} ${record.heads[1]?.root}`);
  });

  it.skipIf(!existsSync('/usr/bin/python3'))('gives the same hashes in another language', async () => {
    const id = await project();
    for (const who of [bob, ann]) await sign(id, who);
    const record = await exported(id);
    const script = fileURLToPath(new URL('../../tests/support/recordHashes.py', import.meta.url));
    const run = spawnSync('/usr/bin/python3', [script], { input: JSON.stringify(record), encoding: 'utf8' });
    expect(run).toMatchObject({ status: 0, stdout: `${independent(record)}\n` });
  });

  it('is for members only', async () => {
    const id = await project();
    for (const path of [`/api/projects/${id}/record`, `/api/projects/${id}/record/head`]) {
      expect((await live.http(await live.person('rita'), 'GET', path)).status).toBe(200);
      expect(await live.http(await live.person('otto'), 'GET', path)).toMatchObject({
        status: 404,
        body: { code: 'not-found' },
      });
      expect((await live.http(null, 'GET', path)).status).toBe(401);
    }
    expect((await live.http(ann, 'GET', '/api/projects/none/record')).status).toBe(404);
  });

  it('gives rows that are older than heads, and those of a lost key, one head more', async () => {
    const id = await project();
    await sign(id, bob);
    const { records } = live.server.store;
    const before = await exported(id);
    const key = await openRecordKey(join(live.dataDir, 'other-key.pem'));
    const parts = { records, key, clock: () => 1_770_000_000_000 };
    const after = await recordFile(id, parts);
    expect(after.heads.map((head) => head.key)).toEqual([before.key, key.publicKey]);
    expect(verifyRecord(after, { signatureHolds, keys: [before.key, key.publicKey] })).toMatchObject({
      ok: true,
      rows: 1,
    });
    expect(verifyRecord(after, { signatureHolds, keys: [key.publicKey] })).toMatchObject({
      ok: false,
      kind: 'other-key',
    });
    const headless = { ...parts, records: { ...records, heads: async () => [] } };
    expect((await recordFile(id, headless)).heads).toHaveLength(1);
    expect(await recordHead(id, headless)).toMatchObject({ size: 1, key: key.publicKey });
  });

  it('gets no new head when it is damaged, and is handed out to show it', async () => {
    const id = await project();
    await sign(id, bob);
    const { records, recordKey: key } = live.server.store;
    const rows = (await records.signOffs(id)).map((row) => ({
      ...row,
      statement: row.statement.replace('released', 'reviewed'),
    }));
    const damaged = { ...records, signOffs: async () => rows, heads: async () => [] };
    const record = await recordFile(id, { records: damaged, key, clock: () => 0 });
    expect(record).toMatchObject({ rows: [{ seq: 1 }], heads: [] });
    expect(verifyRecord(record, { signatureHolds })).toMatchObject({ ok: false, kind: 'changed', row: 1 });
  });

  it('is signed with a key that only the server can read', () => {
    expect(statSync(join(live.dataDir, 'record-key.pem')).mode & 0o777).toBe(0o600);
  });
});

describe('slipjoint verify', () => {
  const file = () => join(live.dataDir, 'record.json');
  afterAll(() => rmSync(file(), { force: true }));

  it('says rows, head and key of a sound record, and what is wrong with another', async () => {
    const id = await project();
    for (const who of [bob, ann]) await sign(id, who);
    const record = await exported(id);
    const write = (changed: object) => writeFileSync(file(), JSON.stringify({ ...record, ...changed }));
    const root = record.heads[1]?.root ?? '';
    const short = root.slice(0, 32).replace(/(.{4})(?=.)/g, '$1 ');
    write({});
    const sound = await runCommand('verify', file());
    expect(sound).toMatchObject({ code: 0, errors: '' });
    for (const text of ['2 rows, each as it was signed', `head  ${short}  signed`, root, record.key, 'give --key'])
      expect(sound.out).toContain(text);
    const pinned = await runCommand('verify', file(), '--key', record.key.toUpperCase(), '--head', short);
    expect(pinned).toMatchObject({ code: 0 });
    expect(pinned.out).not.toContain('give --key');
    expect(await runCommand('verify', file(), '--key', '0'.repeat(64))).toMatchObject({
      ...{
        code: 2,
        errors: expect.stringMatching(/NOT SOUND. First fault at row 1 \(other-key\): .*expected key 0+, got/),
      },
    });
    expect(await runCommand('verify', file(), '--head', '0'.repeat(16))).toMatchObject({
      ...{
        code: 2,
        errors: expect.stringContaining('none of the 2 states of this record has the head 0000 0000 0000 0000'),
      },
    });
    write({ rows: record.rows.slice(1) });
    expect(await runCommand('verify', file())).toMatchObject({
      code: 2,
      errors: expect.stringContaining('row 1 is missing'),
    });
    write({ rows: [], heads: [] });
    expect(await runCommand('verify', file())).toMatchObject({ code: 0, out: '0 rows: nothing has been signed yet' });
  });

  it('says what it expected of bad input', async () => {
    writeFileSync(file(), '{"format":"other"}');
    const cases: readonly (readonly [readonly string[], RegExp])[] = [
      [[file()], /expected a record file at format/],
      [['no-such-file.json'], /no-such-file.json cannot be read \(ENOENT\)/],
      [[file(), file()], /expected one file, got 2/],
      [[file(), '--key', 'abc'], /expected a key of 64 hex digits, got "abc"/],
      [[file(), '--head', 'abc'], /expected a head of at least 16 hex digits, got "abc"/],
      [[file(), '--nonsense'], /nonsense/],
    ];
    for (const [words, message] of cases) {
      const ran = await runCommand('verify', ...words);
      expect(ran.code).toBe(1);
      expect(ran.errors).toMatch(message);
    }
  });
});
