import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { healthSchema, readinessSchema } from '../../shared/protocol/http.ts';
import { testFolder } from '../../tests/support/folder.ts';
import { type TestServer, type TestServerOptions, testServer } from '../../tests/support/http-server.ts';

let server: TestServer;
const open = async (options?: TestServerOptions) => {
  server = await testServer(options);
  return server.visitor();
};
afterEach(() => server.close());

describe('health', () => {
  it('says the process is up', async () => {
    const answer = await (await open()).send('GET', '/healthz');
    expect([answer.status, healthSchema.parse(answer.body)]).toEqual([200, { up: true }]);
  });

  it('says ready when every check passes', async () => {
    const answer = await (await open({ checks: { journal: async () => undefined } })).send('GET', '/readyz');
    const passed = ['records', 'disk', 'journal'].map((name) => ({ name, fault: null }));
    expect([answer.status, readinessSchema.parse(answer.body)]).toEqual([200, { ready: true, checks: passed }]);
  });

  it('names the check that does not', async () => {
    const visitor = await open({ checks: { journal: () => Promise.reject(new Error('read-only')) } });
    const answer = await visitor.send('GET', '/readyz');
    expect([answer.status, answer.body]).toMatchObject([503, { ready: false }]);
    expect(answer.body).toMatchObject({
      checks: [{ fault: null }, { fault: null }, { name: 'journal', fault: 'read-only' }],
    });
  });
});

describe('changes are taken only from this server’s own pages', () => {
  const body = { login: 'lead', password: 'wrong' };

  it.each([
    'https://evil.example',
    'null',
    'http://127.0.0.1:1',
    'https://127.0.0.1',
    'http://127.0.0.1.evil.example',
    '',
  ])('not from the origin %j', async (origin) => {
    const visitor = await open();
    for (const [method, path] of [
      ['POST', '/api/session'],
      ['DELETE', '/api/session'],
      ['POST', '/api/uploads'],
    ] as const) {
      const answer = await visitor.send(method, path, method === 'POST' ? body : undefined, { Origin: origin });
      expect([answer.status, answer.body]).toMatchObject([403, { code: 'bad-origin', came: origin }]);
    }
  });

  it('not from a foreign page that hides its origin', async () => {
    const visitor = await open();
    const answer = await fetch(`${server.origin}/api/session`, {
      method: 'DELETE',
      headers: { 'Sec-Fetch-Site': 'cross-site' },
    });
    expect(answer.status).toBe(403);
    expect((await visitor.send('GET', '/api/session', undefined, { Origin: 'https://evil.example' })).status).toBe(200);
  });

  it('and from command lines, which name none', async () => {
    await open();
    const answer = await fetch(`${server.origin}/api/session`, { method: 'DELETE' });
    expect(answer.status).toBe(204);
  });
});

describe('every answer', () => {
  it.each(['/healthz', '/api/session', '/api/nothing', '/nothing'])(
    'carries the protecting headers: %s',
    async (path) => {
      const { headers } = await (await open()).send('GET', path);
      const policy = headers.get('content-security-policy') ?? '';
      for (const part of [
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "frame-ancestors 'none'",
      ]) {
        expect(policy.split(';')).toContain(part);
      }
      expect(policy).toContain(`connect-src 'self' `);
      expect(policy).toContain(server.origin.replace('http', 'ws'));
      expect(policy).not.toContain('unsafe-inline');
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('referrer-policy')).toBe('no-referrer');
      expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
      expect(headers.get('permissions-policy')).toContain('camera=(self)');
      expect(headers.get('x-powered-by')).toBeNull();
      // Without TLS this would lock people out of the next plain server on the same name.
      expect(headers.get('strict-transport-security')).toBeNull();
    },
  );
});

describe('the web app', () => {
  const web = testFolder();
  mkdirSync(join(web.path, 'assets'));
  writeFileSync(join(web.path, 'index.html'), '<title>app</title>');
  writeFileSync(join(web.path, 'assets', 'index-Bx3kQ9aZ.js'), 'export {}');
  writeFileSync(join(web.path, 'robots.txt'), 'x');
  afterAll(() => web.dispose());
  const html = { Accept: 'text/html' };

  it.each(['/', '/projects/abc', '/invite/some-token'])('answers %s with its page, fresh each time', async (path) => {
    const answer = await (await open({ webDir: web.path })).send('GET', path, undefined, html);
    expect([answer.status, Buffer.from(answer.bytes).toString()]).toEqual([200, '<title>app</title>']);
    expect(answer.headers.get('cache-control')).toBe('no-cache');
  });

  it('keeps hashed files for ever and others not', async () => {
    const visitor = await open({ webDir: web.path });
    const hashed = await visitor.send('GET', '/assets/index-Bx3kQ9aZ.js');
    expect([hashed.status, hashed.headers.get('cache-control')]).toEqual([200, 'public, max-age=31536000, immutable']);
    expect(hashed.headers.get('content-type')).toContain('javascript');
    expect((await visitor.send('GET', '/robots.txt')).headers.get('cache-control')).toBe('no-cache');
  });

  it.each(['/assets/gone-Bx3kQ9aZ.js', '/api/nothing', '/..%2fpackage.json', '/.env'])(
    'has no page for %s',
    async (path) => {
      const answer = await (await open({ webDir: web.path })).send('GET', path, undefined, html);
      expect([answer.status, answer.body]).toMatchObject([404, { code: 'not-found' }]);
    },
  );
});
