import { createServer } from 'node:http';
import { connect } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { type LivePerson, type LiveServer, liveServer } from '../../tests/support/live.ts';
import { Signal } from '../../tests/support/liveSignal.ts';
import type { DocumentHub } from './hub.ts';
import { createSyncUpgrade } from './upgrade.ts';

let live: LiveServer;
let project = '';
let member: LivePerson;
let outsider: LivePerson;
beforeAll(async () => {
  live = await liveServer();
  project = await live.project({ ann: ['lead'] });
  member = await live.person('ann');
  outsider = await live.person('otto');
});
afterAll(() => live.close());

/** 'open', or the HTTP status of the refusal, or the error's code. */
function knock(path: string, headers: Record<string, string>): Promise<string> {
  return new Promise((resolve) => {
    const socket = new WebSocket(`${live.origin.replace('http', 'ws')}${path}`, { headers });
    socket.once('open', () => {
      resolve('open');
      socket.terminate();
    });
    socket.once('unexpected-response', (_request, response) => {
      resolve(String(response.statusCode));
      socket.terminate();
    });
    socket.once('error', (error) => resolve('code' in error ? String(error.code) : error.message));
  });
}

const feed = '/feed/?EIO=4&transport=websocket';
const spec = () => `/sync/${project}/spec`;
const markup = () => `/sync/${project}/markup`;

describe('who may open a socket', () => {
  const host = () => new URL(live.origin).host;
  const port = () => new URL(live.origin).port;
  const origins: readonly (readonly [string, () => string | undefined, boolean])[] = [
    ['its own address', () => live.origin, true],
    ['its own address by name', () => `http://localhost:${port()}`, true],
    ['none', () => undefined, false],
    ['empty', () => '', false],
    ['null', () => 'null', false],
    ['another site', () => 'https://elsewhere.example', false],
    ['another port', () => 'http://127.0.0.1:1', false],
    ['another scheme', () => `https://${host()}`, false],
    ['its address as a prefix', () => `${live.origin}.elsewhere.example`, false],
    ['its address in a path', () => `https://elsewhere.example/${host()}`, false],
    ['its address as user name', () => `http://${host()}@elsewhere.example`, false],
    ['its address in capitals with a slash', () => `${live.origin.toUpperCase()}/`, false],
  ];

  it.each(origins)('origin: %s', async (_name, origin, allowed) => {
    const value = origin();
    const headers = { Cookie: member.cookie, ...(value !== undefined && { Origin: value }) };
    const answers = await Promise.all([spec(), markup(), feed].map((path) => knock(path, headers)));
    expect(answers).toEqual(allowed ? ['open', 'open', 'open'] : ['403', '403', '400']);
  });

  it('opens no document without a session, with a made-up one, or to somebody who is no member', async () => {
    const from = { Origin: live.origin };
    const madeUp = `slipjoint=${'a'.repeat(43)}`;
    for (const path of [spec(), markup()]) {
      expect(await knock(path, from)).toBe('403');
      expect(await knock(path, { ...from, Cookie: madeUp })).toBe('403');
      expect(await knock(path, { ...from, Cookie: outsider.cookie })).toBe('403');
    }
  });

  it.each([
    ['no such project', () => '/sync/nothing/spec', '403'],
    ['no such document', () => `/sync/${project}/verdicts`, '403'],
    ['a document with a number', () => `/sync/${project}/spec2`, 'ECONNRESET'],
    ['no document', () => `/sync/${project}`, 'ECONNRESET'],
    ['too many parts', () => `/sync/${project}/spec/more`, 'ECONNRESET'],
    ['a path that climbs', () => `/sync/%2e%2e/${project}/spec`, 'ECONNRESET'],
    ['a name of 65 characters', () => `/sync/${'p'.repeat(65)}/spec`, 'ECONNRESET'],
    ['somewhere else', () => '/socket', 'ECONNRESET'],
    ['almost the feed', () => '/feedback', 'ECONNRESET'],
  ])('opens nothing at %s', async (_name, path, answer) => {
    const answers = [answer, 'socket hang up'];
    expect(answers).toContain(await knock(path(), { Origin: live.origin, Cookie: member.cookie }));
  });

  it('outlives peers that reset the link in the middle of the handshake', async () => {
    const head = (origin: string): string =>
      [
        ...[
          `GET ${spec()} HTTP/1.1`,
          `Host: ${host()}`,
          `Origin: ${origin}`,
          'Connection: Upgrade',
          'Upgrade: websocket',
        ],
        ...[
          'Sec-WebSocket-Version: 13',
          'Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==',
          `Cookie: ${member.cookie}`,
          '',
          '',
        ],
      ].join('\r\n');
    await Promise.all(
      Array.from(
        { length: 40 },
        (_, i) =>
          new Promise<void>((resolve) => {
            const socket = connect(Number(port()), '127.0.0.1', () => {
              socket.write(head(i % 2 ? live.origin : 'http://elsewhere.example'), () => socket.resetAndDestroy());
            });
            socket.on('error', () => undefined);
            socket.on('close', () => resolve());
          }),
      ),
    );
    expect(await knock(spec(), { Origin: live.origin, Cookie: member.cookie })).toBe('open');
  });
});

describe('a peer that fell off the network', () => {
  it('is let go when it does not answer; one that does stays', async () => {
    const http = createServer();
    let [joined, gone] = [0, 0];
    let beats = 0;
    const signal = new Signal();
    const hub = {
      join: (socket: WebSocket) => {
        joined += 1;
        socket.on('pong', () => {
          beats += 1;
          signal.fire();
        });
        socket.on('close', () => {
          gone += 1;
          signal.fire();
        });
        signal.fire();
      },
    };
    const identity = { account: 'a', name: 'A', roles: [] };
    const access = async () => ({ hub: hub as unknown as DocumentHub, identity, canWrite: true, session: 's' });
    const sync = createSyncUpgrade({ originAllowed: () => true, warn: () => undefined, access, heartbeatMs: 200 });
    http.on('upgrade', (request, socket, head) => void sync.handle(request, socket, head));
    await new Promise<void>((resolve) => http.listen(0, '127.0.0.1', resolve));
    const address = http.address();
    const url = `ws://127.0.0.1:${typeof address === 'object' && address ? address.port : 0}/sync/p/spec`;
    const [mute, lively] = [new WebSocket(url, { autoPong: false }), new WebSocket(url)];
    await signal.until(() => joined === 2 && gone === 1 && beats > 2, 'the end of the mute peer');
    expect([mute.readyState === WebSocket.OPEN, lively.readyState]).toEqual([false, WebSocket.OPEN]);
    expect(gone).toBe(1);
    lively.terminate();
    sync.close();
    http.closeAllConnections();
    await new Promise((resolve) => http.close(resolve));
  });
});
