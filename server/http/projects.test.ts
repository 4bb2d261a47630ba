import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { projectDetailSchema, projectListSchema } from '../../shared/protocol/http.ts';
import { type TestServer, testServer } from '../../tests/support/http-server.ts';

let server: TestServer;
beforeEach(async () => {
  server = await testServer();
});
afterEach(() => server.close());

describe('projects', () => {
  it('are made by anybody signed in, who is then their lead', async () => {
    const { visitor, account } = await server.person('lead');
    const made = await visitor.send('POST', '/api/projects', { name: '  Hill climb  ' });
    expect([made.status, made.body]).toMatchObject([201, { name: 'Hill climb', roles: ['lead'] }]);
    const list = projectListSchema.parse((await visitor.send('GET', '/api/projects')).body);
    expect(list.projects).toEqual([made.body]);
    const detail = await visitor.send('GET', `/api/projects/${list.projects[0]?.id}`);
    const { members } = projectDetailSchema.parse(detail.body);
    expect(members).toEqual([{ account: { id: account.id, login: 'lead', name: 'Name of lead' }, roles: ['lead'] }]);
    expect(JSON.stringify(detail.body)).not.toContain('argon2');
  });

  it('show all members to a reviewer', async () => {
    const id = await server.project({ lead: ['lead'], rev: ['reviewer'] });
    const { visitor } = await server.person('rev');
    const detail = projectDetailSchema.parse((await visitor.send('GET', `/api/projects/${id}`)).body);
    expect(detail.roles).toEqual(['reviewer']);
    expect(detail.members.map(({ account }) => account.login)).toEqual(['lead', 'rev']);
  });

  it('look the same to an outsider whether they exist or not', async () => {
    const id = await server.project({ lead: ['lead'] });
    const { visitor } = await server.person('outsider');
    const [real, unreal] = [
      await visitor.send('GET', `/api/projects/${id}`),
      await visitor.send('GET', '/api/projects/x'),
    ];
    expect([real.status, real.body]).toMatchObject([404, { code: 'not-found' }]);
    expect(unreal.body).toEqual(real.body);
    expect((await visitor.send('GET', '/api/projects')).body).toEqual({ projects: [] });
  });

  it.each([
    ['GET', '/api/projects'],
    ['POST', '/api/projects'],
    ['GET', '/api/projects/x'],
    ['GET', '/api/projects/x/invites'],
    ['POST', '/api/projects/x/invites'],
    ['DELETE', '/api/projects/x/invites/y'],
    ['GET', '/api/projects/x/scans'],
    ['GET', '/api/projects/x/scans/y/tiles'],
    ['GET', '/api/projects/x/scans/y/tiles/00000000/0-10'],
    ['GET', '/api/projects/x/scans/y/nearness'],
    ['GET', `/api/projects/x/scans/y/nearness/${'0'.repeat(32)}/0-10`],
    ['POST', '/api/uploads'],
    ['PATCH', `/api/uploads/${'a'.repeat(22)}`],
    ['DELETE', `/api/uploads/${'a'.repeat(22)}`],
    ['GET', `/api/uploads/${'a'.repeat(22)}/result`],
  ])('are not for strangers: %s %s', async (method, path) => {
    const answer = await server.visitor().send(method, path, method === 'POST' ? { name: 'x' } : undefined);
    expect([answer.status, answer.body]).toMatchObject([401, { code: 'not-signed-in' }]);
    expect(answer.headers.get('content-type')).toContain('application/problem+json');
  });
});

describe('what comes in is refused with what was expected', () => {
  it.each([
    ['broken JSON', '{"name":', 400, { code: 'bad-json' }],
    ['the wrong kind', { name: 5 }, 400, { code: 'bad-request', came: 'the number 5' }],
    ['an empty name', { name: '  ' }, 400, { code: 'bad-request', expected: '1 to 120 characters' }],
    ['a list', [], 400, { code: 'bad-request', came: 'a list of 0' }],
    [
      'more than 256 KiB',
      { name: 'x'.repeat(256 * 1024) },
      413,
      { code: 'too-large', expected: 'at most 262144 bytes' },
    ],
  ])('%s', async (_, body, status, problem) => {
    const { visitor } = await server.person('lead');
    const answer = await visitor.send('POST', '/api/projects', body);
    expect([answer.status, answer.body]).toMatchObject([status, problem]);
    expect(answer.headers.get('content-type')).toContain('application/problem+json');
  });

  it('a body that is not JSON', async () => {
    const { visitor } = await server.person('lead');
    const answer = await visitor.send('POST', '/api/projects', 'name=x', { 'Content-Type': 'text/plain' });
    expect([answer.status, answer.body]).toMatchObject([415, { code: 'unsupported-type', came: 'text/plain' }]);
  });

  it('an address that is nothing', async () => {
    const answer = await server.visitor().send('GET', '/api/nothing');
    expect([answer.status, answer.body]).toMatchObject([404, { code: 'not-found' }]);
    expect(server.alarms).toEqual([]);
  });

  it('a fault of ours is told to the operator, not to the visitor', async () => {
    const { visitor } = await server.person('lead');
    server.records.membershipsOf = () => Promise.reject(new Error('secret path'));
    const answer = await visitor.send('GET', '/api/projects');
    expect([answer.status, answer.body]).toMatchObject([500, { code: 'internal' }]);
    expect(JSON.stringify(answer.body)).not.toContain('secret');
    expect(server.alarms).toHaveLength(1);
  });
});
