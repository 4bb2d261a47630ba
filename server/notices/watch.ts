import type { HookMessage } from '../../shared/protocol/notices.ts';
import { type Clock, isoTime, newId, type Random } from '../ambient.ts';
import type { Delivery, Hook, Notice } from '../storage/notices.ts';
import type { Records } from '../storage/ports.ts';
import { type Scene, standingNotices } from './standing.ts';

/** A hand that drags passes through states nobody needs to hear of: people are told after such a rest, ms. */
const REST_MS = 2_500;
/** What was over for less goes on as the same notice, ms. */
const SAME_MS = 10 * 60_000;

export interface WatchParts {
  readonly records: Records;
  readonly clock: Clock;
  readonly random: Random;
  readonly after: (ms: number, run: () => void) => () => void;
  /** Gates and markups of a project as they are now. */
  readonly scene: (project: string) => Promise<Omit<Scene, 'people'>>;
  /** Notices of this account are others now. */
  readonly told: (project: string, account: string) => void;
  /** Something is in the outbox. */
  readonly posted: () => void;
  /** Whether mail can leave at all. */
  readonly mail: boolean;
  /** Address of a job, for messages that leave the house. */
  readonly urlOf: (project: string) => string;
  readonly warn: (event: string, detail: Readonly<Record<string, unknown>>) => void;
}

/** Tells people what stands: looks after each rest of a project, and when one is opened, so that a crash loses nothing. */
export class NoticeWatch {
  private readonly parts: WatchParts;
  private readonly resting = new Map<string, () => void>();
  private looking: Promise<void> = Promise.resolve();
  private closed = false;

  constructor(parts: WatchParts) {
    this.parts = parts;
  }

  /** Something of this project is another than before. */
  noted(project: string): void {
    if (this.closed) return;
    this.resting.get(project)?.();
    this.resting.set(
      project,
      this.parts.after(REST_MS, () => {
        this.resting.delete(project);
        this.looking = this.looking.then(() => this.look(project));
      }),
    );
  }

  /** Compares what stands with what was told. Never rejects: what failed is looked at again at the next change. */
  async look(project: string): Promise<void> {
    if (this.closed) return;
    try {
      await this.tell(project);
    } catch (error) {
      this.parts.warn('notices-failed', { project, error: String(error) });
    }
  }

  /** Resolves once no look is under way. */
  settled(): Promise<void> {
    return this.looking;
  }

  async close(): Promise<void> {
    this.closed = true;
    for (const stop of this.resting.values()) stop();
    this.resting.clear();
    await this.settled();
  }

  private async tell(project: string): Promise<void> {
    const { records, clock, random, scene, told, posted } = this.parts;
    const [seen, people, hooks] = [
      await scene(project),
      await records.participants(project),
      await records.hooks(project),
    ];
    const mailed = this.parts.mail ? await this.reachable(people.map(({ account }) => account.id)) : new Set<string>();
    const now = clock();
    const { fresh, accounts } = await records.tell({
      ...{ projectId: project, at: isoTime(now), overSince: isoTime(now - SAME_MS) },
      standing: standingNotices({ ...seen, people }),
      newId: () => newId(random),
      deliveries: (notices) => [
        ...notices.filter(({ accountId }) => mailed.has(accountId)).map((notice) => this.mailOf(notice)),
        ...hooks.flatMap((hook) => this.messagesTo(hook, notices)),
      ],
    });
    for (const account of accounts) told(project, account);
    if (fresh.length > 0) posted();
  }

  private async reachable(accounts: readonly string[]): Promise<ReadonlySet<string>> {
    const found = new Set<string>();
    for (const id of accounts)
      if (((await this.parts.records.mailAddress(id))?.confirmedAt ?? null) !== null) found.add(id);
    return found;
  }

  private mailOf(notice: Notice): Delivery {
    return this.delivery(notice, { way: 'mail', recipient: notice.accountId, payload: '' });
  }

  /** One message for what several people are told at once. */
  private messagesTo(hook: Hook, notices: readonly Notice[]): readonly Delivery[] {
    const bySubject = new Map<string, Notice[]>();
    for (const notice of notices) bySubject.set(notice.subject, [...(bySubject.get(notice.subject) ?? []), notice]);
    return [...bySubject.values()].flatMap(([first, ...others]) => {
      if (!first) return [];
      const { kind, at, projectId, words, place } = first;
      const accounts = [first, ...others].map(({ accountId }) => accountId);
      const url = this.parts.urlOf(projectId);
      const data = { project: projectId, words, place, accounts, url };
      const message: HookMessage = { type: `notice.${kind}`, timestamp: at, data };
      return [this.delivery(first, { way: 'hook', recipient: hook.id, payload: JSON.stringify(message) })];
    });
  }

  private delivery(notice: Notice, to: Pick<Delivery, 'way' | 'recipient' | 'payload'>): Delivery {
    const { id: noticeId, projectId, at } = notice;
    return {
      ...{ id: newId(this.parts.random), projectId, noticeId, createdAt: at, nextAt: at, tries: 0 },
      ...{ doneAt: null, givenUpAt: null, lastError: null },
      ...to,
    };
  }
}
