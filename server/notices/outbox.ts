import { type Clock, isoTime } from '../ambient.ts';
import type { Delivery, Notice } from '../storage/notices.ts';
import type { Records } from '../storage/ports.ts';

/** At most one mail in so long for a person and job, ms; what comes meanwhile goes together. */
const MAIL_PAUSE_MS = 10 * 60_000;
/** Pauses between tries, ms; the last one again and again. */
const PAUSES_MS = [5_000, 30_000, 120_000, 600_000, 1_800_000, 3_600_000, 7_200_000, 14_400_000] as const;
/** How long a message is tried, ms. */
const TRIED_FOR_MS = 24 * 3_600_000;
const AT_ONCE = 20;
/** After a look that failed, ms: the records may be in trouble. */
const AFTER_FAILURE_MS = 10_000;
/** The outbox is looked through at least so often, ms. */
const LONGEST_WAIT_MS = 60_000;

/** A way out; resolves once it is taken over there, rejects with the reason in words. */
export interface Post {
  /** undefined: no mail can leave. */
  readonly mail?: (
    to: string,
    about: { readonly project: string; readonly notices: readonly Notice[] },
  ) => Promise<void>;
  readonly hook: (to: { readonly url: string; readonly secret: string }, id: string, payload: string) => Promise<void>;
}

export interface OutboxParts {
  readonly records: Records;
  readonly clock: Clock;
  readonly after: (ms: number, run: () => void) => () => void;
  readonly post: Post;
  readonly warn: (event: string, detail: Readonly<Record<string, unknown>>) => void;
}

type Ended = Pick<Delivery, 'tries' | 'nextAt' | 'doneAt' | 'givenUpAt' | 'lastError'>;

/** Carries out what the notices put there, and tries again what failed. Marked done after it left: at least once, under the same id. */
export class Outbox {
  private readonly parts: OutboxParts;
  private running: Promise<void> | null = null;
  private again = false;
  private closed = false;
  private failing = false;
  private stopTimer = (): void => undefined;

  constructor(parts: OutboxParts) {
    this.parts = parts;
  }

  /** Sends all that is due, then waits for what is due next. */
  run(): Promise<void> {
    if (this.closed) return Promise.resolve();
    if (this.running !== null) {
      this.again = true;
      return this.running;
    }
    this.failing = false;
    this.running = this.drain()
      .catch((error: unknown) => {
        this.failing = true;
        this.parts.warn('outbox-failed', { error: String(error) });
      })
      .finally(() => {
        this.running = null;
        this.wait();
      });
    return this.running;
  }

  async close(): Promise<void> {
    this.closed = true;
    this.stopTimer();
    await this.running;
  }

  private wait(): void {
    this.stopTimer();
    if (!this.closed)
      this.stopTimer = this.parts.after(this.again && !this.failing ? 0 : LONGEST_WAIT_MS, () => void this.run());
    this.again = false;
    if (!this.closed) void this.soon();
  }

  /** Something may be due before the next look. */
  private async soon(): Promise<void> {
    const next = await this.parts.records.nextDelivery().catch(() => undefined);
    if (next === undefined || this.closed || this.running !== null) return;
    const wait = Math.max(this.failing ? AFTER_FAILURE_MS : 0, Date.parse(next) - this.parts.clock());
    if (wait >= LONGEST_WAIT_MS) return;
    this.stopTimer();
    this.stopTimer = this.parts.after(wait, () => void this.run());
  }

  private async drain(): Promise<void> {
    for (;;) {
      const due = await this.parts.records.dueDeliveries(isoTime(this.parts.clock()), AT_ONCE);
      const [first] = due;
      if (!first || this.closed) return;
      if (first.way === 'hook') await Promise.all(due.filter(({ way }) => way === 'hook').map((one) => this.hook(one)));
      else await this.mail(first);
    }
  }

  private async hook(delivery: Delivery): Promise<void> {
    const { records, post } = this.parts;
    const hook = await records.hook(delivery.recipient);
    if (!hook || hook.endedAt !== null)
      return this.end([delivery], dropped(delivery, this.now(), 'the hook was ended'));
    await this.tried([delivery], () => post.hook(hook, delivery.id, delivery.payload));
  }

  /** One mail with all that waits for this person in this job, unless the last one is too fresh. */
  private async mail({ projectId, recipient }: Delivery): Promise<void> {
    const { records, post } = this.parts;
    const waiting = (await records.waitingDeliveries(projectId, recipient)).filter(({ way }) => way === 'mail');
    const last = await records.lastMail(projectId, recipient);
    const from = last === undefined ? 0 : Date.parse(last) + MAIL_PAUSE_MS;
    if (from > this.parts.clock())
      return records.putDeliveries(waiting.map((one) => ({ ...one, nextAt: isoTime(from) })));
    const address = await records.mailAddress(recipient);
    const member = await records.member(projectId, recipient);
    const project = await records.project(projectId);
    const { mail } = post;
    const to = mail && member && address?.confirmedAt ? address.address : undefined;
    const notices = await this.unread(waiting);
    const needless = waiting.filter(({ noticeId }) => !notices.some(({ id }) => id === noticeId));
    for (const one of needless) await this.end([one], dropped(one, this.now(), 'read, or over, before it was sent'));
    const rest = waiting.filter((one) => !needless.includes(one));
    if (rest.length === 0) return;
    if (to === undefined || !mail) {
      for (const one of rest) await this.end([one], dropped(one, this.now(), 'there is no address to send it to'));
      return;
    }
    await this.tried(rest, () => mail(to, { project: project?.name ?? '', notices }));
  }

  private async unread(deliveries: readonly Delivery[]): Promise<readonly Notice[]> {
    const notices = await Promise.all(deliveries.map(({ noticeId }) => this.parts.records.notice(noticeId)));
    return notices.flatMap((one) => (one && one.readAt === null && one.overAt === null ? [one] : []));
  }

  private async tried(deliveries: readonly Delivery[], send: () => Promise<void>): Promise<void> {
    const why = await send().then(
      () => null,
      (error: unknown) => (error instanceof Error ? error.message : String(error)).slice(0, 300),
    );
    if (why === null) return this.end(deliveries, { doneAt: this.now(), lastError: null });
    for (const one of deliveries) await this.end([one], this.failed(one, why));
  }

  private failed({ tries, createdAt }: Delivery, lastError: string): Partial<Ended> {
    const pause = PAUSES_MS[Math.min(tries, PAUSES_MS.length - 1)] ?? TRIED_FOR_MS;
    const next = this.parts.clock() + pause;
    const over = next > Date.parse(createdAt) + TRIED_FOR_MS;
    return { lastError, nextAt: isoTime(next), givenUpAt: over ? this.now() : null };
  }

  private end(deliveries: readonly Delivery[], how: Partial<Ended>): Promise<void> {
    return this.parts.records.putDeliveries(deliveries.map((one) => ({ ...one, tries: one.tries + 1, ...how })));
  }

  private now(): string {
    return isoTime(this.parts.clock());
  }
}

/** Not sent, and not to be. */
function dropped({ tries }: Delivery, at: string, lastError: string): Partial<Ended> {
  return { tries, givenUpAt: at, lastError };
}
