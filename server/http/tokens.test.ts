import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type TestServer, testServer, type Visitor } from '../../tests/support/http-server.ts';

const DAY = 24 * 3_600_000;
let server: TestServer;
let project: string;
let lead: Visitor;

beforeEach(async () => {
  server = await testServer();
  project = await server.project({ lead: ['lead'], rev: ['reviewer'] });
  lead = (await server.person('lead')).visitor;
});
afterEach(() => server.close());

const later = (ms: number): string => new Date(server.clock.now() + ms).toISOString();

async function make(visitor: Visitor, over: Record<string, unknown> = {}) {
  const body = { name: 'Nightly', scopes: ['read'], expiresAt: later(DAY), ...over };
  const answer = await visitor.send('POST', `/api/projects/${project}/tokens`, body);
  return { ...answer, made: Object(answer.body) as Record<string, unknown> };
}

function script(token: unknown, path: string, headers: Record<string, string> = {}) {
  return server.visitor().send('GET', path, undefined, { Authorization: `Bearer ${String(token)}`, ...headers });
}

describe('a token', () => {
  it('is shown once, kept only as a hash, and reads until its end', async () => {
    const { status, made } = await make(lead);
    expect([status, made.token]).toEqual([201, expect.stringMatching(/^sj_[\w-]{43}$/)]);
    const list = await lead.send('GET', `/api/projects/${project}/tokens`);
    expect(list.body).toMatchObject({ tokens: [{ name: 'Nightly', scopes: ['read'], lastUsedAt: null }] });
    expect(Buffer.from(list.bytes).toString()).not.toContain(String(made.token));
    expect(JSON.stringify(await server.records.tokens(project))).not.toContain(String(made.token));
    expect((await script(made.token, `/api/projects/${project}`)).status).toBe(200);
    expect((await server.records.tokens(project))[0]?.lastUsedAt).toBe(later(0));
    server.clock.advance(DAY);
    expect((await script(made.token, `/api/projects/${project}`)).body).toMatchObject({ code: 'bad-token' });
  });

  it('sees nothing but its own job', async () => {
    const other = await server.project({ lead: ['lead'] });
    const { made } = await make(lead);
    const outside = await script(made.token, `/api/projects/${other}`);
    const nowhere = await script(made.token, '/api/projects/no-such-job');
    expect([outside.status, outside.body]).toEqual([404, nowhere.body]);
  });

  it('ends when it is revoked, and with its owner’s place in the job', async () => {
    const { visitor: rev, account } = await server.person('rev');
    const [one, two] = [await make(rev), await make(rev)];
    const revoke = (id: unknown) => lead.send('DELETE', `/api/projects/${project}/tokens/${String(id)}`);
    expect([(await revoke(one.made.id)).status, (await revoke(one.made.id)).status]).toEqual([204, 404]);
    expect((await script(one.made.token, `/api/projects/${project}`)).status).toBe(401);
    expect((await script(two.made.token, `/api/projects/${project}`)).status).toBe(200);
    expect((await lead.send('DELETE', `/api/projects/${project}/members/${account.id}`)).status).toBe(204);
    expect((await script(two.made.token, `/api/projects/${project}`)).status).toBe(401);
  });

  it('of others is the lead’s to see and revoke, and nobody else’s', async () => {
    const { made } = await make(lead);
    const { visitor: rev } = await server.person('rev');
    expect((await rev.send('GET', `/api/projects/${project}/tokens`)).body).toEqual({ tokens: [] });
    expect((await rev.send('DELETE', `/api/projects/${project}/tokens/${String(made.id)}`)).status).toBe(404);
  });

  it.each([
    [{ expiresAt: '2020-01-01T00:00:00.000Z' }, 400],
    [{ expiresAt: '2029-01-01T00:00:00.000Z' }, 400],
    [{ expiresAt: undefined }, 400],
    [{ scopes: [] }, 400],
    [{ scopes: ['sign'] }, 400],
    [{ name: '  ' }, 400],
  ])('cannot be made with %j', async (over, status) => {
    expect((await make(lead, over)).status).toBe(status);
  });

  it('brings a file when it was made for that, and not otherwise', async () => {
    const metadata = { project, filename: 'bay.xyz', unit: 'mm' };
    const encoded = Object.entries(metadata).map(([key, value]) => `${key} ${Buffer.from(value).toString('base64')}`);
    const begin = async (scopes: readonly string[]) => {
      const { made } = await make(lead, { scopes });
      return server.visitor().send('POST', '/api/uploads', undefined, {
        Authorization: `Bearer ${String(made.token)}`,
        ...{ 'Tus-Resumable': '1.0.0', 'Upload-Length': '6', 'Upload-Metadata': encoded.join(',') },
      });
    };
    expect((await begin(['upload'])).status).toBe(201);
    expect((await begin(['read', 'edit'])).body).toMatchObject({ code: 'token-scope' });
  });

  it('cannot do more than its owner', async () => {
    const { visitor: rev } = await server.person('rev');
    expect((await make(rev, { scopes: ['edit'] })).body).toMatchObject({ code: 'wrong-role' });
  });

  it.each(['Bearer', 'Bearer sj_x', 'Basic abc', `Bearer sj_${'a'.repeat(43)}`])(
    'that is none (%s) is refused, whatever cookie is beside it',
    async (Authorization) => {
      const answer = await lead.send('GET', `/api/projects/${project}`, undefined, { Authorization });
      expect([answer.status, answer.body]).toMatchObject([401, { code: 'bad-token' }]);
    },
  );

  it('needs no origin of ours, and a cookie from elsewhere still does', async () => {
    const { made } = await make(lead, { scopes: ['edit'] });
    const headers = { Authorization: `Bearer ${String(made.token)}`, Origin: 'https://elsewhere.example' };
    const answer = await server.visitor().send('PATCH', `/api/projects/${project}/spec`, {}, headers);
    expect(answer.body).toMatchObject({ code: 'bad-request' });
    const cookie = await lead.send('PATCH', `/api/projects/${project}/spec`, {}, { Origin: headers.Origin });
    expect(cookie.body).toMatchObject({ code: 'bad-origin' });
  });
});

describe('requests', () => {
  it('are limited for each account, by cookie and token together, and light ones ten times less', async () => {
    await server.close();
    server = await testServer({ requestsPerMinute: 20 });
    project = await server.project({ lead: ['lead'], rev: ['reviewer'] });
    lead = (await server.person('lead')).visitor;
    const { made } = await make(lead);
    const light = `/api/projects/${project}/scans/none/tiles`;
    for (let index = 0; index < 10; index++) expect((await lead.send('GET', light)).status).toBe(404);
    for (let index = 0; index < 18; index++) await script(made.token, `/api/projects/${project}`);
    const refused = await lead.send('GET', `/api/projects/${project}`);
    expect([refused.status, refused.body]).toMatchObject([429, { code: 'too-many' }]);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    const { visitor: rev } = await server.person('rev');
    expect((await rev.send('GET', `/api/projects/${project}`)).status).toBe(200);
  });
});

describe('a description', () => {
  it('stands at its address, and as a page without script', async () => {
    const api = await server.visitor().send('GET', '/api/openapi.json');
    expect(api.body).toMatchObject({ openapi: '3.1.0', paths: { '/api/projects/{id}/spec': { patch: {} } } });
    const page = Buffer.from((await server.visitor().send('GET', '/api/docs')).bytes).toString();
    expect(page).toContain('<code>PATCH /api/projects/:id/spec</code>');
    expect(page).not.toMatch(/<script|<style| style=/);
  });
});

describe('people', () => {
  it('are taken out by a lead, never the last one', async () => {
    const { account } = await server.person('rev');
    const { account: own } = await server.person('lead');
    const out = (id: string) => lead.send('DELETE', `/api/projects/${project}/members/${id}`);
    expect((await out('nobody')).status).toBe(404);
    expect((await out(own.id)).body).toMatchObject({ code: 'last-lead' });
    expect([(await out(account.id)).status, (await out(account.id)).status]).toEqual([204, 404]);
    expect((await lead.send('GET', `/api/projects/${project}`)).body).toMatchObject({ members: [{}] });
  });

  it('whose session ran out are told to sign in', async () => {
    server.clock.advance(8 * DAY);
    expect((await lead.send('GET', `/api/projects/${project}`)).body).toMatchObject({ code: 'not-signed-in' });
  });
});
