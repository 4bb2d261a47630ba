import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { inviteListSchema, type MadeInvite, madeInviteSchema } from '../../shared/protocol/http.ts';
import { roles } from '../../shared/protocol/roles.ts';
import { type TestServer, testServer, type Visitor } from '../../tests/support/http-server.ts';

let server: TestServer;
let project: string;
let lead: Visitor;
beforeEach(async () => {
  server = await testServer();
  project = await server.project({ lead: ['lead'] });
  lead = (await server.person('lead')).visitor;
});
afterEach(() => server.close());

const guest = { name: 'Welder', login: 'Weld', password: 'violet anchor teapot drizzle' };
const HOUR = 3_600_000;

async function invite(role = 'welder'): Promise<MadeInvite> {
  const answer = await lead.send('POST', `/api/projects/${project}/invites`, { role });
  expect(answer.status).toBe(201);
  return madeInviteSchema.parse(answer.body);
}

describe('an invite', () => {
  it('shows project, inviter and role before it is accepted, to anybody who has the link', async () => {
    const { token, expiresAt } = await invite();
    const offer = await server.visitor().send('GET', `/api/invites/${token}`);
    const project_ = `Job ${project}`;
    expect(offer.body).toEqual({ project: project_, inviter: 'Name of lead', role: 'welder', expiresAt });
  });

  it('makes an account and a member, signed in', async () => {
    const { token } = await invite();
    const visitor = server.visitor();
    const joined = await visitor.send('POST', `/api/invites/${token}`, guest);
    const expected = { projectId: project, account: { login: 'weld', name: 'Welder' }, roles: ['welder'] };
    expect([joined.status, joined.body]).toMatchObject([201, expected]);
    expect((await visitor.send('GET', `/api/projects/${project}`)).body).toMatchObject({ roles: ['welder'] });
  });

  it('adds its role to a person who is signed in', async () => {
    const { token } = await invite();
    const accepted = await lead.send('POST', `/api/invites/${token}`, { accept: true });
    expect([accepted.status, accepted.body]).toMatchObject([200, { roles: ['lead', 'welder'] }]);
    expect(accepted.headers.get('set-cookie')).toBeNull();
  });

  it('signs nobody in to an account that exists', async () => {
    const { token } = await invite();
    await server.person('other');
    const visitor = server.visitor();
    const taken = await visitor.send('POST', `/api/invites/${token}`, { ...guest, login: 'other' });
    expect([taken.status, taken.body]).toMatchObject([409, { code: 'login-taken' }]);
    const nobody = await visitor.send('POST', `/api/invites/${token}`, { accept: true });
    expect([nobody.status, nobody.body]).toMatchObject([401, { code: 'not-signed-in' }]);
    expect(visitor.cookie).toBe('');
  });

  it('asks for a good password and stays open', async () => {
    const { token } = await invite();
    const weak = await server.visitor().send('POST', `/api/invites/${token}`, { ...guest, password: 'short' });
    expect([weak.status, weak.body]).toMatchObject([422, { code: 'weak-password' }]);
    expect((await server.visitor().send('GET', `/api/invites/${token}`)).status).toBe(200);
  });

  it('can be used once', async () => {
    const { token } = await invite();
    await server.visitor().send('POST', `/api/invites/${token}`, guest);
    for (const body of [undefined, { ...guest, login: 'two' }, { accept: true }]) {
      const answer = await lead.send(body ? 'POST' : 'GET', `/api/invites/${token}`, body);
      expect([answer.status, answer.body]).toMatchObject([410, { code: 'invite-gone' }]);
    }
  });

  it('ends after 72 hours', async () => {
    const { token } = await invite();
    server.clock.advance(72 * HOUR);
    const answer = await server.visitor().send('POST', `/api/invites/${token}`, guest);
    expect([answer.status, answer.body]).toMatchObject([410, { code: 'invite-gone' }]);
    const offer = await server.visitor().send('GET', `/api/invites/${token}`);
    expect(offer.body).toMatchObject({ code: 'invite-gone', detail: 'it is expired' });
  });

  it('can be revoked, once', async () => {
    const { token, id } = await invite();
    expect((await lead.send('DELETE', `/api/projects/${project}/invites/${id}`)).status).toBe(204);
    expect((await lead.send('DELETE', `/api/projects/${project}/invites/${id}`)).status).toBe(410);
    expect((await server.visitor().send('POST', `/api/invites/${token}`, guest)).status).toBe(410);
  });

  it('is listed with its state, never with its link', async () => {
    const { token, id } = await invite();
    await server.visitor().send('POST', `/api/invites/${token}`, guest);
    const answer = await lead.send('GET', `/api/projects/${project}/invites`);
    expect(inviteListSchema.parse(answer.body).invites).toMatchObject([{ id, role: 'welder', state: 'used' }]);
    expect(JSON.stringify(answer.body)).not.toContain(token);
  });

  it('names a role that exists', async () => {
    const answer = await lead.send('POST', `/api/projects/${project}/invites`, { role: 'owner' });
    expect([answer.status, answer.body]).toMatchObject([400, { code: 'bad-request' }]);
  });

  it('can not be guessed', async () => {
    expect((await server.visitor().send('GET', '/api/invites/guess')).status).toBe(410);
  });

  it.each(roles.filter((role) => role !== 'lead'))('is not made, listed or revoked by a %s', async (role) => {
    const { id } = await invite();
    const other = await server.project({ lead: ['lead'], [role]: [role] });
    const { visitor } = await server.person(role);
    for (const [method, path] of [
      ['GET', ''],
      ['POST', ''],
      ['DELETE', `/${id}`],
    ] as const) {
      const body = method === 'POST' ? { role: 'lead' } : undefined;
      const answer = await visitor.send(method, `/api/projects/${other}/invites${path}`, body);
      expect([answer.status, answer.body]).toMatchObject([403, { code: 'wrong-role', came: role }]);
    }
  });
});
