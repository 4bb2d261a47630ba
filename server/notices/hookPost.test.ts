import { createServer, type RequestListener, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Webhook } from 'standardwebhooks';
import { afterEach, describe, expect, it } from 'vitest';
import { hookProblem, isPublic, postHook, type Resolve } from './hookPost.ts';

const secret = `whsec_${Buffer.alloc(32, 7).toString('base64')}`;
const message = { id: 'msg-1', payload: '{"type":"notice.waits"}' };
const servers: Server[] = [];
const resolveTo =
  (...addresses: string[]): Resolve =>
  async () =>
    addresses.map((address) => ({ address, family: address.includes(':') ? 6 : 4 }));
const noNames: Resolve = () => Promise.reject(new Error('not asked'));

afterEach(() => {
  for (const server of servers.splice(0)) {
    server.closeAllConnections();
    server.close();
  }
});

async function listening(answer: RequestListener): Promise<string> {
  const server = createServer(answer);
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}/notices`;
}

const post = (url: string, over: Partial<Parameters<typeof postHook>[2]> = {}) =>
  postHook({ url, secret }, message, { clock: () => Date.now(), resolve: noNames, local: true, ...over });

describe('an address', () => {
  it.each(['10.0.0.1', '172.31.0.1', '192.168.1.1', '127.0.0.1', '169.254.169.254', '100.64.0.1', '0.0.0.0'])(
    '%s is inside',
    (address) => expect(isPublic(address)).toBe(false),
  );
  it.each(['::1', '::', 'fe80::1', 'fd00::1', 'fc00::1', '::ffff:10.0.0.1', '::ffff:a00:1', '64:ff9b::a00:1', 'x'])(
    '%s is inside, too',
    (address) => expect(isPublic(address)).toBe(false),
  );
  it.each(['1.1.1.1', '172.32.0.1', '100.128.0.1', '2606:4700::1111', '::ffff:1.1.1.1'])('%s is outside', (address) =>
    expect(isPublic(address)).toBe(true),
  );
});

describe('where notices may be posted', () => {
  const problem = (url: string, resolve: Resolve = resolveTo('1.1.1.1'), local = false) =>
    hookProblem(url, { resolve, local });

  it('is https out on the internet', async () => {
    expect(await problem('https://shop.example/x')).toBeNull();
    expect(await problem('http://shop.example/x')).toContain('only https');
    expect(await problem('nothing')).toContain('no address');
    expect(await problem('https://a:b@shop.example')).toContain('name or password');
    expect(await problem('https://shop.example', () => Promise.reject(new Error('x')))).toContain('not known');
  });

  it('is not inside, by whatever name', async () => {
    expect(await problem('https://10.0.0.1/')).toContain('private network');
    expect(await problem('https://[::1]/')).toContain('private network');
    expect(await problem('https://0x7f.1/')).toContain('127.0.0.1');
    expect(await problem('https://shop.example', resolveTo('1.1.1.1', '192.168.0.1'))).toContain('192.168.0.1');
    expect(await problem('https://shop.example', resolveTo('::ffff:127.0.0.1'))).toContain('private network');
  });

  it('is this machine only where that is allowed, and nothing else inside', async () => {
    expect(await problem('http://127.0.0.1:8080/', noNames, true)).toBeNull();
    expect(await problem('http://127.0.0.1:8080/', noNames, false)).toContain('only https');
    expect(await problem('http://10.0.0.1/', noNames, true)).toContain('private network');
    expect(await problem('http://shop.example/', resolveTo('1.1.1.1'), true)).toContain('this machine only');
  });
});

describe('a message', () => {
  it('is posted with a signature the receiver can verify', async () => {
    let seen: { headers: Record<string, string>; body: string } | undefined;
    const url = await listening(async (req, res) => {
      const chunks: Buffer[] = [];
      for await (const chunk of req) chunks.push(chunk);
      seen = { headers: req.headers as Record<string, string>, body: Buffer.concat(chunks).toString() };
      res.writeHead(204).end();
    });
    await post(url);
    expect(seen?.headers['webhook-id']).toBe('msg-1');
    expect(new Webhook(secret).verify(seen?.body ?? '', seen?.headers ?? {})).toEqual({ type: 'notice.waits' });
    const other = new Webhook(`whsec_${Buffer.alloc(32, 8).toString('base64')}`);
    expect(() => other.verify(seen?.body ?? '', seen?.headers ?? {})).toThrow();
  });

  it('goes to the address that was looked at, whatever the name means a moment later', async () => {
    const url = await listening((_req, res) => void res.writeHead(200).end());
    const asked: string[] = [];
    const rebinding: Resolve = async (host) => {
      asked.push(host);
      return [{ address: asked.length === 1 ? '1.1.1.1' : '127.0.0.1', family: 4 }];
    };
    expect(await hookProblem('https://shop.example', { resolve: rebinding, local: false })).toBeNull();
    await expect(post('https://shop.example', { resolve: rebinding, local: false })).rejects.toThrow('private network');
    expect(asked).toEqual(['shop.example', 'shop.example']);
    // Pinned: the system knows no such name, and it is reached all the same.
    await post(url.replace('127.0.0.1', 'hook.invalid'), { resolve: resolveTo('127.0.0.1') });
  });

  it('is not carried on to where an answer points', async () => {
    let calls = 0;
    const url = await listening((_req, res) => {
      calls += 1;
      res.writeHead(302, { Location: 'http://127.0.0.1:1/' }).end();
    });
    await expect(post(url)).rejects.toThrow('answered 302: redirects are not followed');
    expect(calls).toBe(1);
  });

  it('fails in words when nobody answers in time, when it is refused, and when nobody is there', async () => {
    const slow = await listening(() => undefined);
    await expect(post(slow, { timeoutMs: 40 })).rejects.toThrow('no answer within 0.04 s');
    const broken = await listening((_req, res) => void res.writeHead(500).end());
    await expect(post(broken)).rejects.toThrow('answered 500');
    await expect(post('http://127.0.0.1:1/')).rejects.toThrow('ECONNREFUSED');
  });

  it('reads no more of an answer than it must', async () => {
    const url = await listening((_req, res) => {
      res.writeHead(200);
      const more = (): void => {
        while (!res.destroyed && res.write(Buffer.alloc(16_384)));
        if (!res.destroyed) res.once('drain', more);
      };
      more();
    });
    await post(url);
  });
});
