import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LiveAnswer, type LivePerson, type LiveServer, liveServer } from '../../tests/support/live.ts';

let live: LiveServer;
let project: string;
let lead: LivePerson;

beforeAll(async () => {
  live = await liveServer();
  project = await live.project({ lead: ['lead'], drawer: ['designer'], rev: ['reviewer'] });
  lead = await live.person('lead');
});
afterAll(() => live.close());

async function send(method: string, path: string, body: unknown, headers: Record<string, string> = {}) {
  const answer = await fetch(new URL(`/api/projects/${project}${path}`, live.origin), {
    method,
    headers: { Origin: live.origin, Cookie: lead.cookie, 'Content-Type': 'application/json', ...headers },
    body: JSON.stringify(body),
  });
  const read: LiveAnswer = { status: answer.status, body: Object(await answer.json()) };
  return read;
}
const edit = (body: unknown, headers?: Record<string, string>) => send('PATCH', '/spec', body, headers);
const etag = async (): Promise<string> => {
  const answer = await fetch(new URL(`/api/projects/${project}/spec`, live.origin), {
    headers: { Cookie: lead.cookie },
  });
  return answer.headers.get('etag') ?? '';
};

describe('an edit over HTTP', () => {
  it('reads text as it is typed and numbers as SI, and everybody sees it at once', async () => {
    const other = live.document(await live.person('drawer'), project);
    await other.synced();
    const { status } = await edit({ set: { 'tube.outsideDiameter': '1-5/8"', 'engine.lambda': 0.9 } });
    expect(status).toBe(200);
    await live.signal.until(() => other.map.get('engine.lambda') === 0.9, 'the edit on the other side');
    expect(other.map.get('tube.outsideDiameter')).toMatchObject({ as: '1-5/8"', si: expect.closeTo(0.041275, 9) });
    other.close();
  });

  it('adds a row and takes it away with all below it', async () => {
    await edit({
      set: { 'runners.zz': 99, 'runners.zz.name': 'Ninth', 'runners.zz.nodes.a': 1, 'runners.zz.nodes.a.x': '10 mm' },
    });
    const there = async () => {
      const state = await live.server.store.journal.head(project);
      return [state > 0, JSON.stringify((await live.http(lead, 'GET', `/api/projects/${project}/spec`)).body)] as const;
    };
    expect((await there())[1]).toContain('Ninth');
    expect((await edit({ remove: ['runners.zz'] })).status).toBe(200);
    expect((await there())[1]).not.toContain('Ninth');
  });

  it('keeps to one client id for an account, and every entry has its author in the history', async () => {
    const before = (await live.server.store.records.clientBindings(project, 'spec')).size;
    for (const lambda of [0.86, 0.87, 0.88]) await edit({ set: { 'engine.lambda': lambda } });
    expect((await live.server.store.records.clientBindings(project, 'spec')).size - before).toBeLessThanOrEqual(1);
    const { body } = await live.http(lead, 'GET', `/api/projects/${project}/history?path=engine.lambda`);
    expect(JSON.stringify(body)).toContain('0.88');
  });

  it.each([
    [{ set: { 'engine.nothing': 1 } }, 'names nothing'],
    [{ set: { 'tube.outsideDiameter': '5 kg' } }, 'tube.outsideDiameter'],
    [{ set: { 'tube.outsideDiameter': 5 } }, 'expected'],
    [{ set: { 'tube.outsideDiameter': Number.NaN } }, ''],
    [{ set: { 'runners.zz': 'first' } }, 'place in the order'],
    [{ set: { 'ticks.scan.registered': 'yes' } }, 'person’s word'],
    [{ remove: ['ticks.scan.registered'] }, 'person’s word'],
    [{ set: { 'engine.lambda': 1 }, remove: ['engine.lambda'] }, 'in set and in remove'],
    [{}, ''],
    [{ set: { 'engine.lambda': 1 }, more: 1 }, ''],
  ])('refuses %j and changes nothing', async (body, words) => {
    const before = await etag();
    const answer = await edit(body);
    expect([400, 422]).toContain(answer.status);
    expect(String(answer.body.detail)).toContain(words);
    expect(await etag()).toBe(before);
  });

  it('holds to If-Match: refused when anything was written since', async () => {
    const seen = await etag();
    expect((await edit({ set: { 'engine.lambda': 0.81 } }, { 'If-Match': seen })).status).toBe(200);
    const late = await edit({ set: { 'engine.lambda': 0.82 } }, { 'If-Match': seen });
    expect([late.status, late.body.code]).toEqual([412, 'moved-on']);
    expect((await edit({ set: { 'engine.lambda': 0.82 } }, { 'If-Match': 'x' })).status).toBe(400);
  });

  it('is made once for an Idempotency-Key, also when it comes twice at once, and the key stands for nothing else', async () => {
    const before = await live.server.store.journal.head(project);
    const headers = { 'Idempotency-Key': 'night-1' };
    const both = await Promise.all([1, 2].map(() => edit({ set: { 'engine.lambda': 0.83 } }, headers)));
    const again = await edit({ set: { 'engine.lambda': 0.83 } }, headers);
    expect([both[0], both[1]]).toEqual([again, again]);
    expect(await live.server.store.journal.head(project)).toBe(before + 1);
    const other = await edit({ set: { 'engine.lambda': 0.84 } }, headers);
    expect([other.status, other.body.code]).toEqual([422, 'key-reused']);
    expect((await edit({ set: { 'engine.lambda': 0.84 } }, { 'Idempotency-Key': 'a b' })).status).toBe(400);
  });
});

describe('a remark over HTTP', () => {
  it('is made, answered and resolved, under the name of whoever sends it', async () => {
    const made = await send('POST', '/markups', { at: [0.1, 0, 0], text: 'look here' });
    expect(made).toMatchObject({ status: 201, body: { n: 1 } });
    const thread = String(made.body.thread);
    expect((await send('POST', `/markups/${thread}/comments`, { text: 'done' })).status).toBe(201);
    expect((await send('PUT', `/markups/${thread}/state`, { state: 'resolved' })).status).toBe(200);
    const { body } = await live.http(lead, 'GET', `/api/projects/${project}/markups`);
    const comments = [{ text: 'look here', by: lead.account.id }, { text: 'done' }];
    expect(body).toMatchObject({ markups: [{ id: thread, state: 'resolved', comments }] });
    expect((await send('POST', '/markups/none/comments', { text: 'x' })).status).toBe(404);
    expect((await send('POST', '/markups', { at: [0, 0], text: 'x' })).status).toBe(400);
  });
});

describe('somebody who is taken out', () => {
  it('loses both sockets at once and finds nothing any more', async () => {
    const rev = await live.person('rev');
    const document = live.document(rev, project, 'markup');
    const feed = live.feed(rev, project);
    await Promise.all([document.synced(), feed.joined()]);
    const gone = await live.http(lead, 'DELETE', `/api/projects/${project}/members/${rev.account.id}`);
    expect(gone.status).toBe(204);
    await live.signal.until(() => document.closed.length > 0 && feed.refusals.length > 0, 'both sockets to end');
    expect(feed.refusals[0]?.code).toBe('not-found');
    expect((await live.http(rev, 'GET', `/api/projects/${project}`)).status).toBe(404);
    document.close();
    feed.close();
  });
});
