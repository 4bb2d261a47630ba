import { createTransport } from 'nodemailer';
import type { MailSetting } from '../config.ts';
import type { Notice } from '../storage/notices.ts';

/** Time for each step of handing a mail over, ms. */
const TIMEOUT_MS = 20_000;

export interface MailPost {
  /** All that waits for one person in one job. */
  notices(to: string, about: { readonly project: string; readonly notices: readonly Notice[] }): Promise<void>;
  /** The code that shows that an address is its owner's. */
  code(to: string, code: string): Promise<void>;
  close(): void;
}

/** Mail by the server that the settings name. Plain text: it is read on phones in shops. */
export function mailPost({ smtpUrl, from }: MailSetting, urlOf: (project: string) => string): MailPost {
  const waits = { connectionTimeout: TIMEOUT_MS, greetingTimeout: TIMEOUT_MS, socketTimeout: TIMEOUT_MS };
  const transport = createTransport({ url: smtpUrl, ...waits }, { from });
  const send = async (to: string, subject: string, lines: readonly string[]): Promise<void> => {
    await transport.sendMail({
      to,
      // One line: a job's name must not write headers.
      subject: subject.replace(/\s+/g, ' '),
      text: `${lines.join('\n')}\n`,
      headers: { 'Auto-Submitted': 'auto-generated' },
    });
  };
  return {
    notices: (to, { project, notices }) => {
      const [first] = notices;
      const subject =
        notices.length === 1 ? `${project}: ${first?.words ?? ''}` : `${project}: ${notices.length} notices`;
      const list = notices.map(({ words }) => `- ${words}`);
      return send(to, subject.slice(0, 200), [
        ...[`In ${project}:`, '', ...list, '', urlOf(first?.projectId ?? '')],
        ...['', 'You get this because you gave this address in Slipjoint; take it out there, under your name.'],
      ]);
    },
    code: (to, code) =>
      send(to, `Your code: ${code}`, [
        `Type ${code} in Slipjoint to get notices at this address.`,
        'If you did not ask for this, do nothing: nobody gets in with it.',
      ]),
    close: () => transport.close(),
  };
}
