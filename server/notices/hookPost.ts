import { lookup } from 'node:dns/promises';
import { type IncomingMessage, request as plain, type RequestOptions } from 'node:http';
import { request as secure } from 'node:https';
import { BlockList, isIP } from 'node:net';
import { Webhook } from 'standardwebhooks';
import type { Clock } from '../ambient.ts';

/** Time for one message from the first packet to the end of the answer, ms. */
const TIMEOUT_MS = 5_000;
/** Of an answer no more is read, bytes. */
const ANSWER_LIMIT = 64 * 1024;

/** All addresses of a host name. */
export type Resolve = (host: string) => Promise<readonly { readonly address: string; readonly family: number }[]>;

export const systemResolve: Resolve = (host) => lookup(host, { all: true, verbatim: true });

export interface HookPostParts {
  readonly clock: Clock;
  readonly resolve: Resolve;
  /** Plain http to this machine is allowed, for trying hooks out. */
  readonly local: boolean;
  readonly timeoutMs?: number;
}

/** Networks that are not the public internet: RFC 1918, 6598, 6890, 4193 and what is a wrapping of those. */
function inwards(): BlockList {
  const list = new BlockList();
  const v4 = ['0.0.0.0/8', '10.0.0.0/8', '100.64.0.0/10', '127.0.0.0/8', '169.254.0.0/16', '172.16.0.0/12'];
  const more = ['192.0.0.0/24', '192.0.2.0/24', '192.168.0.0/16', '198.18.0.0/15', '198.51.100.0/24', '203.0.113.0/24'];
  for (const net of [...v4, ...more, '224.0.0.0/3']) list.addSubnet(...subnet(net), 'ipv4');
  const v6 = [
    '::/128',
    '::1/128',
    '64:ff9b::/96',
    '64:ff9b:1::/48',
    '100::/64',
    '2001::/23',
    '2001:db8::/32',
    '2002::/16',
  ];
  for (const net of [...v6, 'fc00::/7', 'fe80::/10', 'fec0::/10', 'ff00::/8']) list.addSubnet(...subnet(net), 'ipv6');
  return list;
}

function subnet(net: string): [string, number] {
  const [address = '', bits = ''] = net.split('/');
  return [address, Number(bits)];
}

const blocked = inwards();
const loopback = new BlockList();
loopback.addSubnet('127.0.0.0', 8, 'ipv4');
loopback.addAddress('::1', 'ipv6');

const family = (address: string): 'ipv4' | 'ipv6' => (isIP(address) === 6 ? 'ipv6' : 'ipv4');

/** True for an address out on the internet. What is no address is not. */
export function isPublic(address: string): boolean {
  if (isIP(address) === 0) return false;
  // An IPv4 address in IPv6 clothes is judged as what it is.
  const [, inner] = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address) ?? [];
  if (inner !== undefined) return !blocked.check(inner, 'ipv4');
  return !/^::ffff:/i.test(address) && !blocked.check(address, family(address));
}

/** Why notices cannot be posted to an address, in words; null when they can. */
export async function hookProblem(
  text: string,
  parts: Pick<HookPostParts, 'resolve' | 'local'>,
): Promise<string | null> {
  const found = await target(text, parts);
  return typeof found === 'string' ? found : null;
}

interface Target {
  readonly url: URL;
  /** The one address that was looked at, and that is called. */
  readonly address: string;
}

async function target(
  text: string,
  { resolve, local }: Pick<HookPostParts, 'resolve' | 'local'>,
): Promise<Target | string> {
  if (!URL.canParse(text)) return 'it is no address such as https://shop.example/notices';
  const url = new URL(text);
  if (url.username !== '' || url.password !== '') return 'it holds a name or password; those are not sent';
  if (url.protocol !== 'https:' && !(local && url.protocol === 'http:')) return 'only https: is posted to';
  const host = url.hostname.replace(/^\[|\]$/g, '');
  const addresses = isIP(host) === 0 ? await resolve(host).catch(() => []) : [{ address: host }];
  const [first] = addresses;
  if (!first) return `the name ${host} is not known`;
  const inside = (address: string): boolean => local && loopback.check(address, family(address));
  // All of them: a name that answers with one good address and one bad one is a trap.
  const bad = addresses.find(({ address }) => !isPublic(address) && !inside(address));
  if (bad) {
    const named = bad.address === host ? host : `${host} is ${bad.address}, which`;
    return `${named} is inside a private network`;
  }
  if (url.protocol === 'http:' && !inside(first.address)) return 'plain http is posted to this machine only';
  return { url, address: first.address };
}

/** Posts a message, signed as Standard Webhooks says. Resolves on a 2xx answer; no redirect is followed. */
export async function postHook(
  to: { readonly url: string; readonly secret: string },
  message: { readonly id: string; readonly payload: string },
  parts: HookPostParts,
): Promise<void> {
  const found = await target(to.url, parts);
  if (typeof found === 'string') throw new Error(found);
  const at = new Date(parts.clock());
  const headers = {
    'Content-Type': 'application/json',
    'Content-Length': String(Buffer.byteLength(message.payload)),
    'User-Agent': 'Slipjoint',
    'webhook-id': message.id,
    'webhook-timestamp': String(Math.floor(at.getTime() / 1000)),
    'webhook-signature': new Webhook(to.secret).sign(message.id, at, message.payload),
  };
  const status = await send(found, { headers, payload: message.payload, timeoutMs: parts.timeoutMs ?? TIMEOUT_MS });
  if (status >= 200 && status < 300) return;
  if (status >= 300 && status < 400) throw new Error(`answered ${status}: redirects are not followed`);
  throw new Error(`answered ${status}`);
}

interface Sending {
  readonly headers: Readonly<Record<string, string>>;
  readonly payload: string;
  readonly timeoutMs: number;
}

function send({ url, address }: Target, { headers, payload, timeoutMs }: Sending): Promise<number> {
  const options: RequestOptions = {
    method: 'POST',
    headers,
    agent: false,
    signal: AbortSignal.timeout(timeoutMs),
    // Pinned: between looking at a name and calling it, it could come to mean another machine.
    lookup: (_host, asked, done) => {
      const one = { address, family: isIP(address) };
      if (asked.all) done(null, [one]);
      else done(null, one.address, one.family);
    },
  };
  return new Promise((resolve, reject) => {
    const call = (url.protocol === 'https:' ? secure : plain)(url, options, (answer) => read(answer, resolve, reject));
    call.on('error', (error) =>
      reject(error.name === 'AbortError' ? new Error(`no answer within ${timeoutMs / 1000} s`) : error),
    );
    call.end(payload);
  });
}

/** Reads no more than it must; what is left of a long answer is cut off. */
function read(answer: IncomingMessage, resolve: (status: number) => void, reject: (error: Error) => void): void {
  let bytes = 0;
  const end = (): void => resolve(answer.statusCode ?? 0);
  answer.on('data', (chunk: Buffer) => {
    bytes += chunk.length;
    if (bytes <= ANSWER_LIMIT) return;
    end();
    answer.destroy();
  });
  answer.on('end', end);
  answer.on('error', reject);
}
