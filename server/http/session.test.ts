import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type TestServer, testPassword, testServer } from '../../tests/support/http-server.ts';

let server: TestServer;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.close());

const first = { name: 'Lead', login: ' LEAD ', password: testPassword };

describe('first setup', () => {
  it('makes the first account with the code from the console and signs it in', async () => {
    const visitor = server.visitor();
    expect((await visitor.send('GET', '/api/session')).body).toEqual({ account: null, setup: true });
    const code = await server.auth.setupCode();
    const made = await visitor.send('POST', '/api/setup', { ...first, code });
    expect([made.status, made.body]).toMatchObject([201, { account: { login: 'lead', name: 'Lead' }, setup: false }]);
    expect((await visitor.send('GET', '/api/session')).body).toEqual(made.body);
    const again = await server.visitor().send('POST', '/api/setup', { ...first, code });
    expect([again.status, again.body]).toMatchObject([409, { code: 'already-set-up' }]);
  });

  it.each([
    ['a wrong code', { code: 'AAAA-AAAA-AAAA-AAAA' }, 403, 'wrong-setup-code'],
    ['no code', { code: undefined }, 400, 'bad-request'],
    ['a short password', { password: 'short' }, 422, 'weak-password'],
    ['a password of more than 256 characters', { password: 'ab cd '.repeat(50) }, 400, 'bad-request'],
    ['a login with a space', { login: 'a b' }, 400, 'bad-request'],
    ['a name of two lines', { name: 'a\nb' }, 400, 'bad-request'],
    ['a field that is not asked for', { admin: true }, 400, 'bad-request'],
  ])('refuses %s', async (_, change, status, code) => {
    const body = { ...first, code: await server.auth.setupCode(), ...change };
    const answer = await server.visitor().send('POST', '/api/setup', body);
    expect([answer.status, answer.body]).toMatchObject([status, { code }]);
    expect(await server.records.anyAccount()).toBe(false);
  });
});

describe('signing in and out', () => {
  it('gives a cookie scripts can not read, and takes it back', async () => {
    const { account } = await server.person('lead');
    const visitor = server.visitor();
    const answer = await visitor.send('POST', '/api/session', { login: 'Lead', password: testPassword });
    expect([answer.status, answer.body]).toEqual([
      200,
      { account: { id: account.id, login: 'lead', name: 'Name of lead' }, setup: false },
    ]);
    expect(answer.headers.get('set-cookie')).toMatch(/^slipjoint=[\w-]{43}; Path=\/; HttpOnly; SameSite=Lax; Max-Age=/);
    expect(answer.headers.get('cache-control')).toBe('no-store');
    const kept = visitor.cookie;
    expect((await visitor.send('DELETE', '/api/session')).status).toBe(204);
    expect(visitor.cookie).toBe('');
    const stolen = await server.visitor().send('GET', '/api/session', undefined, { Cookie: kept });
    expect(stolen.body).toEqual({ account: null, setup: false });
  });

  it('ends the session the browser had before', async () => {
    const { visitor } = await server.person('lead');
    const before = visitor.cookie;
    await visitor.send('POST', '/api/session', { login: 'lead', password: testPassword });
    expect(visitor.cookie).not.toBe(before);
    expect(await server.auth.readSession(before)).toBeUndefined();
  });

  it('refuses a wrong password in the same words as an unknown login', async () => {
    await server.person('lead');
    const wrong = await server.visitor().send('POST', '/api/session', { login: 'lead', password: 'wrong' });
    const unknown = await server.visitor().send('POST', '/api/session', { login: 'other', password: 'wrong' });
    expect(wrong.status).toBe(401);
    expect(wrong.body).toMatchObject({ code: 'wrong-credentials' });
    expect(unknown.body).toEqual(wrong.body);
  });

  it('refuses the sixth try, right or not, and says when to come back', async () => {
    await server.person('lead');
    const visitor = server.visitor();
    for (let index = 0; index < 5; index++) {
      await visitor.send('POST', '/api/session', { login: 'lead', password: `wrong ${index}` });
    }
    const answer = await visitor.send('POST', '/api/session', { login: 'LEAD', password: testPassword });
    expect([answer.status, answer.body]).toMatchObject([429, { code: 'too-many', detail: 'try again in 15 min' }]);
    expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(880);
    expect(visitor.cookie).toBe('');
  });
});
