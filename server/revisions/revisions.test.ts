import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import type { Role } from '../../shared/gates/roles.ts';
import {
  type Comparison,
  comparisonSchema,
  type HistoryView,
  historySchema,
  revisionListSchema,
  revisionSchema,
  revisionStateSchema,
} from '../../shared/protocol/revisions.ts';
import { parseSpecText } from '../../shared/spec/file.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';
import { planRestore, restore } from '../../shared/spec/restore.ts';
import { testFolder } from '../../tests/support/folder.ts';
import { type LivePerson, type LiveServer, liveServer, signableEntries } from '../../tests/support/live.ts';

let folder: ReturnType<typeof testFolder>;
let live: LiveServer;
let project: string;
let [lead, designer, reviewer, stranger]: LivePerson[] = [];

const roles: Readonly<Record<string, readonly Role[]>> = {
  lead: ['lead'],
  designer: ['designer'],
  reviewer: ['reviewer'],
};

async function people(): Promise<void> {
  [lead, designer, reviewer, stranger] = await Promise.all(
    ['lead', 'designer', 'reviewer', 'stranger'].map((login) => live.person(login)),
  );
}

beforeEach(async () => {
  folder = testFolder();
  live = await liveServer({ dataDir: folder.path });
  project = await live.project(roles, signableEntries());
  await people();
});
afterEach(async () => {
  await live.close();
  folder.dispose();
});

const at = (rest: string): string => `/api/projects/${project}${rest}`;
const get = (who: LivePerson | null | undefined, rest: string) => live.http(who ?? null, 'GET', at(rest));
const make = (who: LivePerson | null | undefined, body: unknown) =>
  live.http(who ?? null, 'POST', at('/revisions'), body);

async function made(name: string) {
  const answer = await make(lead, { name });
  expect(answer.status).toBe(201);
  return revisionSchema.parse(answer.body);
}

async function compared(before: string, after: string): Promise<Comparison> {
  const answer = await get(reviewer, `/compare?before=${before}&after=${after}`);
  expect([answer.status, answer.body]).toEqual([200, expect.anything()]);
  return comparisonSchema.parse(answer.body);
}

async function history(query = ''): Promise<HistoryView> {
  const answer = await get(reviewer, `/history${query}`);
  expect([answer.status, answer.body]).toEqual([200, expect.anything()]);
  return historySchema.parse(answer.body);
}

async function edits(who: LivePerson | undefined, changes: Readonly<Record<string, unknown>>): Promise<void> {
  if (!who) throw new Error('nobody');
  const client = live.document(who, project);
  await client.synced();
  for (const [path, value] of Object.entries(changes)) {
    if (value === undefined) client.edit(() => client.map.delete(path));
    else client.set(path, value);
  }
  await client.kept();
  client.close();
}

async function restart(): Promise<void> {
  await live.close();
  live = await liveServer({ dataDir: folder.path });
  await people();
}

describe('revisions', () => {
  it('are numbered, lettered and listed newest first, with who and when', async () => {
    const first = await made('As agreed');
    expect(first).toMatchObject({ n: 1, letter: 'A', name: 'As agreed', note: '', by: { name: 'Name of lead' } });
    await make(designer, { name: '  After the call ', note: 'two\nlines' });
    const { revisions } = revisionListSchema.parse((await get(reviewer, '/revisions')).body);
    expect(revisions.map(({ letter, name, by }) => [letter, name, by.name])).toEqual([
      ['B', 'After the call', 'Name of designer'],
      ['A', 'As agreed', 'Name of lead'],
    ]);
    expect(revisions[0]?.note).toBe('two\nlines');
    expect(revisions[0]?.digest, 'the same entries').toBe(first.digest);
  });

  it('hold what is on disk then, whatever comes later, also after a restart', async () => {
    await edits(designer, { 'tube.wall': { si: 0.003, as: '3 mm' } });
    const { id, seq } = await made('Thick wall');
    await edits(designer, { 'tube.wall': 0.001 });
    await restart();
    const { entries, revision } = revisionStateSchema.parse((await get(lead, `/revisions/${id}`)).body);
    expect(entries['tube.wall']).toEqual({ si: 0.003, as: '3 mm' });
    expect([revision.seq, revision.name]).toEqual([seq, 'Thick wall']);
    const file = await get(reviewer, `/revisions/${id}/spec`);
    const read = parseSpecText(JSON.stringify(file.body));
    expect(read.ok && read.entries.get('tube.wall')).toBe(0.003);
  });

  it('are made by who may edit the spec, seen by members, and are nothing to anybody else', async () => {
    const { id } = await made('Mine');
    const routes = ['/revisions', `/revisions/${id}`, `/revisions/${id}/spec`, `/compare?before=${id}&after=now`];
    const reads = [...routes, '/history'];
    expect((await make(reviewer, { name: 'No' })).body).toMatchObject({ code: 'wrong-role' });
    expect((await make(stranger, { name: 'No' })).body).toMatchObject({ code: 'not-found' });
    expect((await make(null, { name: 'No' })).body).toMatchObject({ code: 'not-signed-in' });
    for (const route of reads) {
      expect([route, (await get(reviewer, route)).status]).toEqual([route, 200]);
      expect([route, (await get(stranger, route)).status]).toEqual([route, 404]);
      expect([route, (await get(null, route)).status]).toEqual([route, 401]);
    }
    expect(revisionListSchema.parse((await get(lead, '/revisions')).body).revisions).toHaveLength(1);
  });

  it.each([
    {},
    { name: ' ' },
    { name: 'x'.repeat(121) },
    { name: 'two\nlines' },
    { name: 'n', note: 'x'.repeat(1001) },
  ])('refuse a name or note that will not do, and keep nothing', async (body) => {
    expect((await make(lead, body)).body).toMatchObject({ code: 'bad-request', expected: expect.any(String) });
    expect((await get(lead, '/revisions')).body).toEqual({ revisions: [] });
  });

  it('of another project, or of none, are not found', async () => {
    const { id } = await made('Here');
    const other = await live.project(roles, signableEntries());
    expect((await live.http(lead ?? null, 'GET', `/api/projects/${other}/revisions/${id}`)).status).toBe(404);
    const answer = await get(lead, '/compare?before=none&after=now');
    expect(answer.body).toMatchObject({ code: 'not-found', detail: 'this project has no such revision', came: 'none' });
    expect((await get(lead, '/compare?before=now')).body).toMatchObject({ code: 'bad-request' });
  });

  it('restored by a client leave the entries they hold, as an edit of its own that others see', async () => {
    const { id } = await made('Good');
    await edits(designer, { 'tube.wall': 0.001, 'runners.r1': undefined, 'chains.x1': 1, 'chains.x1.name': 'Late' });
    const state = revisionStateSchema.parse((await get(lead, `/revisions/${id}`)).body);
    if (!lead) throw new Error('nobody');
    const client = live.document(lead, project);
    await client.synced();
    const plan = planRestore(client.map, new Map(Object.entries(state.entries)));
    client.edit(() => restore(client.doc, plan, () => undefined));
    await client.kept();
    expect((await compared(id, 'now')).sections).toEqual([]);
    const entries = client.doc.getMap<unknown>(SPEC_ROOT);
    expect(new Map(entries.entries())).toEqual(new Map(Object.entries(state.entries)));
    expect((await history('?path=tube.wall')).changes[0]).toMatchObject({ by: { name: 'Name of lead' } });
  });
});

describe('comparing', () => {
  it('tells fields in display units, verdicts that flipped and how far runners moved', async () => {
    const { id } = await made('Before');
    await edits(designer, {
      ...{ 'tube.wall': { si: 0.0025, as: '2.5 mm' }, 'runners.r2.nodes.n3.z': 0.28 },
      ...{
        'limits.runner-mach': 1,
        'limits.runner-mach.most': 0.02,
        'limits.runner-mach.reason': 'Rules of the series',
      },
    });
    const found = await compared(id, 'now');
    expect([found.before.revision?.letter, found.after.revision]).toEqual(['A', null]);
    expect(found.sections.map(({ title, fields }) => [title, fields.map((f) => [f.title, f.from, f.to])])).toEqual([
      ['Runner tube', [['Runner wall', '2.00 mm', '2.50 mm']]],
      ['Runners', [['Runner 2, node 3: Z', '250.00 mm', '280.00 mm']]],
      ['Limits set for this job', expect.any(Array)],
    ]);
    const mach = found.flipped.find(({ key }) => key === 'runner-mach/r1');
    expect([mach?.before?.mark, mach?.after?.mark]).toEqual(['within', 'outside']);
    expect(mach?.after?.label).toMatch(/^FAIL, over by /);
    expect(found.runners.map(({ id: runner, state, largest }) => [runner, state, largest])).toEqual([
      ['r1', 'same', 0],
      ['r2', 'moved', expect.closeTo(0.03, 9)],
    ]);
    const back = await compared('now', id);
    expect(back.flipped.find(({ key }) => key === 'runner-mach/r1')?.after?.mark).toBe('within');
  });

  it('of a state with itself tells nothing', async () => {
    const { id } = await made('One');
    expect(await compared(id, id)).toMatchObject({ sections: [], flipped: [] });
  });

  it('tells runners that came, went and can not be drawn', async () => {
    const { id } = await made('Two runners');
    await edits(lead, { 'runners.r1': undefined, 'runners.r9': 9, 'runners.r2.nodes.n2.radius': undefined });
    const { runners } = await compared(id, 'now');
    expect(runners.map(({ id: runner, state }) => [runner, state])).toEqual([
      ['r2', 'unknown'],
      ['r9', 'added'],
      ['r1', 'removed'],
    ]);
  });
});

describe('history', () => {
  it('says who set a field when, from what to what, newest first', async () => {
    await edits(designer, { 'tube.wall': { si: 0.003, as: '3 mm' } });
    await edits(lead, { 'tube.wall': undefined });
    const { changes } = await history('?path=tube.wall');
    expect(changes.map(({ title, from, to, by }) => [title, from, to, by.name])).toEqual([
      ['Runner wall', '3.00 mm', 'empty', 'Name of lead'],
      ['Runner wall', '2.00 mm', '3.00 mm', 'Name of designer'],
      ['Runner wall', 'empty', '2.00 mm', 'Name of lead'],
    ]);
    for (const { at: time } of changes) expect(Math.abs(Date.parse(time ?? '') - Date.now())).toBeLessThan(600_000);
  });

  it('goes on where an answer ended, in both directions, to the last change', async () => {
    await edits(lead, { 'tube.wall': 0.003 });
    const backward: number[] = [];
    for (let more: string | null = ''; more !== null; ) {
      const page: HistoryView = await history(`?limit=50${more ? `&before=${more}` : ''}`);
      backward.push(...page.changes.map(({ seq }) => seq));
      ({ more } = page);
    }
    const count = signableEntries().size + 1;
    expect([backward.length, backward[0], backward.at(-1)]).toEqual([count, 2, 1]);
    expect((await history('?since=1')).changes.map(({ path }) => path)).toEqual(['tube.wall']);
    expect(await history('?since=2')).toEqual({ changes: [], more: null });
    const first = await history('?since=0&limit=500');
    expect([first.changes.length, first.more]).toEqual([count, null]);
  });

  it.each(['?since=x', '?since=1&before=2', '?limit=0', '?limit=501', '?path=', '?other=1'])(
    'refuses the query %s',
    async (query) => {
      expect((await get(lead, `/history${query}`)).body).toMatchObject({ code: 'bad-request' });
    },
  );

  it('outlives a restart and the compaction of the journal', async () => {
    const { journal } = live.server.store;
    const doc = new Y.Doc();
    for (const update of (await journal.load(project, 'spec')).updates) Y.applyUpdate(doc, update);
    const sent: Promise<number>[] = [];
    doc.on('update', (update: Uint8Array) =>
      sent.push(journal.append(project, 'spec', update, designer?.account.id ?? '')),
    );
    for (let i = 0; i < 450; i++) doc.getMap(SPEC_ROOT).set('tube.wall', 0.002 + (i + 1) * 1e-6);
    await Promise.all(sent);
    // Nobody had it open yet: this opens it, which tells the changes and compacts.
    const after = await history('?path=tube.wall&limit=500');
    expect(after.changes).toHaveLength(451);
    const entries = await journal.changes.entries(project);
    expect(entries.map(({ kind }) => kind)).toEqual(['snapshot']);
    await restart();
    expect(await history('?path=tube.wall&limit=500')).toEqual(after);
    expect(after.changes.map(({ by }) => by.name).slice(-2)).toEqual(['Name of designer', 'Name of lead']);
  });
});
