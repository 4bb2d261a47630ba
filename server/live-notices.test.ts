import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { SMTPServer } from 'smtp-server';
import { Webhook } from 'standardwebhooks';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { hookMessageSchema } from '../shared/protocol/notices.ts';
import { type LiveServer, liveServer } from '../tests/support/live.ts';

let live: LiveServer;
let receiver: Server;
let post: SMTPServer;
const messages: { headers: Record<string, string>; body: string }[] = [];
const mails: string[] = [];

const text = async (stream: AsyncIterable<Buffer>): Promise<string> => {
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk);
  return Buffer.concat(chunks).toString();
};

beforeAll(async () => {
  receiver = createServer(async (req, res) => {
    messages.push({ headers: req.headers as Record<string, string>, body: await text(req) });
    res.writeHead(204).end();
    live.signal.fire();
  });
  post = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData: (stream, _session, done) => {
      void text(stream).then((mail) => {
        mails.push(mail);
        done();
        live.signal.fire();
      });
    },
  });
  await new Promise<void>((resolve) => receiver.listen(0, '127.0.0.1', resolve));
  await new Promise<void>((resolve) => post.listen(0, '127.0.0.1', resolve));
  const { port } = post.server.address() as AddressInfo;
  const SMTP_URL = `smtp://127.0.0.1:${port}`;
  live = await liveServer({ env: { SLIPJOINT_ALLOW_LOCAL_HOOKS: '1', SMTP_URL, MAIL_FROM: 'shop@example.org' } });
});
afterAll(async () => {
  await live.close();
  receiver.closeAllConnections();
  receiver.close();
  await new Promise<void>((resolve) => post.close(resolve));
});

it('a remark that names somebody reaches them in the app, by mail and by hook', { timeout: 20_000 }, async () => {
  const project = await live.project({ lead: ['lead'], weld: ['welder'] });
  const [lead, weld] = [await live.person('lead'), await live.person('weld')];
  const at = `/api/projects/${project}`;
  const hookUrl = `http://127.0.0.1:${(receiver.address() as AddressInfo).port}/notices`;
  expect((await live.http(lead, 'POST', `${at}/hooks`, { url: 'http://10.0.0.1/' })).body.code).toBe('hook-refused');
  const hook = await live.http(lead, 'POST', `${at}/hooks`, { url: hookUrl });
  expect(hook).toMatchObject({ status: 201, body: { secret: expect.stringMatching(/^whsec_/), waiting: 0 } });

  const put = await live.http(weld, 'PUT', '/api/account/mail', { address: 'weld@example.org' });
  expect(put.body).toEqual({ possible: true, address: 'weld@example.org', confirmed: false });
  expect((await live.http(weld, 'PUT', '/api/account/mail', { address: 'weld@example.org' })).status).toBe(429);
  await live.signal.until(() => mails.length > 0, 'the code');
  const [code = ''] = /[A-Z2-9]{4}-[A-Z2-9]{4}/.exec(mails[0] ?? '') ?? [];
  const confirm = (typed: string) => live.http(weld, 'POST', '/api/account/mail/confirm', { code: typed });
  expect((await confirm('AAAA-AAAA')).body.code).toBe('wrong-mail-code');
  expect((await confirm(code.toLowerCase())).body).toMatchObject({ confirmed: true });
  expect((await confirm(code)).body.code).toBe('wrong-mail-code');

  const feed = live.feed(weld, project);
  let told = 0;
  feed.socket.on('notices', () => {
    told += 1;
    live.signal.fire();
  });
  await feed.joined();
  await live.http(lead, 'POST', `${at}/markups`, { at: [0, 0, 0], text: '@weld is this gap yours?' });
  await live.signal.until(() => told > 0 && messages.length > 0 && mails.length > 1, 'all three ways');

  const list = await live.http(weld, 'GET', `${at}/notices`);
  const notices = list.body.notices as readonly { id: string; kind: string; words: string; readAt: string | null }[];
  expect(notices).toMatchObject([
    { kind: 'mention', words: 'Markup 1 names you: @weld is this gap yours?', readAt: null },
  ]);
  expect((await live.http(lead, 'GET', `${at}/notices`)).body).toEqual({ notices: [] });
  const [message] = messages;
  const verified = new Webhook(String(hook.body.secret)).verify(message?.body ?? '', message?.headers ?? {});
  const { data } = hookMessageSchema.parse(verified);
  expect(data).toMatchObject({ project, accounts: [weld.account.id], place: { kind: 'thread' } });
  expect(mails[1]).toContain('Markup 1 names you');

  const ids = notices.map(({ id }) => id);
  expect((await live.http(weld, 'POST', `${at}/notices/read`, { ids })).status).toBe(204);
  await live.signal.until(() => told > 1, 'the other pages to hear that it was read');
  expect((await live.http(weld, 'GET', `${at}/notices`)).body).toMatchObject({
    notices: [{ readAt: expect.any(String) }],
  });
  expect((await live.http(lead, 'GET', `${at}/hooks`)).body).toMatchObject({ hooks: [{ delivered: 1, waiting: 0 }] });
  expect((await live.http(lead, 'GET', `${at}/hooks`)).body).not.toHaveProperty('hooks.0.secret');
  expect((await live.http(lead, 'DELETE', `${at}/hooks/${String(hook.body.id)}`)).status).toBe(204);
  feed.close();
});
