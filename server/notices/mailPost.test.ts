import type { AddressInfo } from 'node:net';
import { SMTPServer } from 'smtp-server';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Notice } from '../storage/notices.ts';
import { type MailPost, mailPost } from './mailPost.ts';

let server: SMTPServer;
let mails: string[];
let from: string[];
let post: MailPost;

beforeEach(async () => {
  [mails, from] = [[], []];
  server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onMailFrom: (address, _session, done) => {
      from.push(address.address);
      done();
    },
    onRcptTo: ({ address }, _session, done) =>
      done(address.startsWith('refused') ? new Error('no such person') : undefined),
    onData: (stream, _session, done) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        mails.push(Buffer.concat(chunks).toString());
        done();
      });
    },
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.server.address() as AddressInfo;
  const setting = { smtpUrl: `smtp://127.0.0.1:${port}`, from: 'Slipjoint <shop@example.org>' };
  post = mailPost(setting, (id) => `https://shop.example/j/${id}`);
});
afterEach(async () => {
  post.close();
  await new Promise<void>((resolve) => server.close(resolve));
});

const notice = (words: string): Notice => ({
  ...{
    id: 'n',
    projectId: 'p',
    accountId: 'a',
    kind: 'waits',
    subject: 's',
    words,
    at: '',
    readAt: null,
    overAt: null,
  },
  place: { kind: 'gate', gate: 'design' },
});

it('tells all that waits in one plain mail, with the way there', async () => {
  await post.notices('bob@example.org', {
    project: 'Job 7',
    notices: [notice('Design is ready'), notice('Scan is stale')],
  });
  expect(from).toEqual(['shop@example.org']);
  const [mail = ''] = mails;
  expect(mail).toContain('Subject: Job 7: 2 notices');
  expect(mail).toContain('To: bob@example.org');
  expect(mail).toContain('Auto-Submitted: auto-generated');
  for (const line of ['- Design is ready', '- Scan is stale', 'https://shop.example/j/p']) expect(mail).toContain(line);
});

it('lets no name of a job write headers', async () => {
  const project = 'Job\r\nBcc: everybody@example.org';
  await post.notices('bob@example.org', { project, notices: [notice('x')] });
  expect(mails[0]?.split(/\r?\n\r?\n/)[0]).not.toMatch(/^Bcc:/m);
});

it('mails a code, and fails in words', async () => {
  await post.code('bob@example.org', 'ABCD-EFGH');
  expect(mails[0]).toContain('Type ABCD-EFGH in Slipjoint');
  await expect(post.code('refused@example.org', 'X')).rejects.toThrow('no such person');
});
