import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gateRow } from '../../shared/gates/gates.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import { testFolder } from '../../tests/support/folder.ts';
import {
  type LivePerson,
  type LiveServer,
  livePassword,
  liveServer,
  signableEntries,
} from '../../tests/support/live.ts';
import { signOver } from '../../tests/support/signing.ts';
import { verify } from '../cli/verify.ts';

let live: LiveServer;
let ann: LivePerson;
let project: string;
let folder: ReturnType<typeof testFolder>;
/** Heads after each row, as somebody would have kept them. */
const kept: unknown[] = [];
const ROWS = 6;

const get = async (path: string, who = ann) => live.http(who, 'GET', `/api/projects/${project}/${path}`);

beforeAll(async () => {
  folder = testFolder();
  live = await liveServer();
  ann = await live.person('ann');
  const entries = signableEntries();
  for (const item of gateRow('scan').items)
    entries.set(`ticks.scan.${item.id}`, { done: true, note: '', by: ann.account.id });
  project = await live.project({ ann: ['lead'], rita: ['reviewer'] }, entries);
  const spec = live.document(ann, project);
  await spec.synced();
  for (let row = 1; row <= ROWS; row++) {
    spec.set(`ticks.scan.${gateRow('scan').items[0]?.id}`, { done: true, note: `look ${row}`, by: ann.account.id });
    await spec.kept();
    const digest = ((await get('gates')).body.gates as readonly GateView[]).find((g) => g.gate === 'scan')?.digest;
    const request = { role: 'lead', digest, ruleSet: RULE_SET, meaning: 'released', password: livePassword };
    expect(await signOver(live.http, ann, { project, gate: 'scan' }, request)).toMatchObject({ status: 201 });
    kept.push((await get('record/head')).body);
  }
});
afterAll(async () => {
  await live.close();
  folder.dispose();
});

const fileOf = (name: string, content: unknown): string => {
  const file = join(folder.path, name);
  writeFileSync(file, JSON.stringify(content));
  return file;
};

async function run(...args: readonly string[]): Promise<{ code: number; said: string }> {
  const lines: string[] = [];
  const out = { line: (text: string) => lines.push(text), error: (text: string) => lines.push(text) };
  const code = await verify(args, out as unknown as Parameters<typeof verify>[1]);
  return { code, said: lines.join('\n') };
}

describe('one row with its proof', () => {
  it('verifies with no server, for each row, and not when anything in it is another', async () => {
    for (let seq = 1; seq <= ROWS; seq++) {
      const { status, body } = await get(`record/proof/${seq}`);
      expect(status).toBe(200);
      const good = await run('--proof', fileOf('row.json', body));
      expect(good).toMatchObject({ code: 0, said: expect.stringContaining(`row ${seq} stands in the record`) });
      const text = JSON.stringify(body);
      for (let at = 3; at < text.length; at += 37) {
        const other = text.slice(0, at) + String.fromCharCode(text.charCodeAt(at) ^ 1) + text.slice(at + 1);
        writeFileSync(join(folder.path, 'bad.json'), other);
        expect((await run('--proof', join(folder.path, 'bad.json'))).code, `${seq} at ${at}`).not.toBe(0);
      }
    }
  });

  it('is for members, of rows that are there', async () => {
    for (const seq of ['0', '7', 'x', '-1', '1e0'])
      expect(await get(`record/proof/${seq}`), seq).toMatchObject({ status: 404 });
    expect(await get('record/proof/1', await live.person('otto'))).toMatchObject({ status: 404 });
    expect(await get('record/proof/1', await live.person('rita'))).toMatchObject({ status: 200 });
  });
});

describe('the growth of a record since a head that was kept', () => {
  it('verifies against each head, by the whole record and by the proof alone', async () => {
    const record = fileOf('record.json', (await get('record')).body);
    for (const [i, head] of kept.entries()) {
      const since = fileOf('head.json', head);
      const words = `out of the ${i + 1} rows`;
      expect(await run(record, '--since', since)).toMatchObject({ code: 0, said: expect.stringContaining(words) });
      const proof = fileOf('growth.json', (await get(`record/growth/${i + 1}`)).body);
      expect(await run(proof, '--since', since)).toMatchObject({ code: 0, said: expect.stringContaining(words) });
    }
    expect(await get('record/growth/7')).toMatchObject({ status: 404 });
  });

  it('shows a record that was written anew in between', async () => {
    const { body } = await get('record');
    const third = (kept[2] as { head: { root: string; signature: string } }).head;
    const growth = (await get('record/growth/3')).body as { proof: string[]; head: { root: string } };
    const since = fileOf('head.json', third);
    // An older head that is not borne out, and one whose signature was touched up to fit.
    const forged = { ...third, root: growth.head.root };
    expect(await run(fileOf('record.json', body), '--since', fileOf('forged.json', forged))).toMatchObject({ code: 2 });
    expect(await run(fileOf('growth.json', growth), '--since', fileOf('forged.json', forged))).toMatchObject({
      code: 2,
    });
    const cut = { ...growth, proof: growth.proof.slice(1) };
    expect(await run(fileOf('growth.json', cut), '--since', since)).toMatchObject({
      ...{ code: 2, said: expect.stringContaining('did not grow out of') },
    });
    expect(await run(fileOf('growth.json', growth), '--since', fileOf('other.json', kept[3]))).toMatchObject({
      code: 2,
    });
    expect(await run(fileOf('growth.json', growth), '--since', fileOf('none.json', { head: null }))).toMatchObject({
      code: 1,
    });
    expect(await run('--proof', fileOf('growth.json', growth))).toMatchObject({ code: 1 });
  });
});
