import type { Clock, Random } from './ambient.ts';
import type { Config } from './config.ts';
import type { NoticeDesk } from './http/parts.ts';
import { hookProblem, postHook, systemResolve } from './notices/hookPost.ts';
import { mailPost } from './notices/mailPost.ts';
import { Outbox } from './notices/outbox.ts';
import { NoticeWatch } from './notices/watch.ts';
import type { VerdictFeed } from './rooms/feed.ts';
import type { RoomRegistry } from './rooms/registry.ts';
import type { Records } from './storage/ports.ts';

interface Parts {
  readonly records: Records;
  readonly config: Config;
  readonly feed: Pick<VerdictFeed, 'notices'>;
  /** Asked for late: rooms tell the notices of themselves. */
  readonly rooms: () => RoomRegistry;
  readonly clock: Clock;
  readonly random: Random;
  readonly warn: (event: string, detail: Readonly<Record<string, unknown>>) => void;
}

/** What carries notices of live projects, by whatever way. */
export interface LiveNotices {
  readonly desk: NoticeDesk;
  noted(project: string): void;
  /** Sends what an earlier server left. */
  start(): void;
  close(): Promise<void>;
}

const after = (ms: number, run: () => void): (() => void) => {
  const timer = setTimeout(run, ms);
  timer.unref();
  return () => clearTimeout(timer);
};

export function liveNotices({ records, config, feed, rooms, clock, random, warn }: Parts): LiveNotices {
  const urlOf = (project: string): string => `${config.origins[0] ?? ''}/j/${encodeURIComponent(project)}`;
  const mail = config.mail && mailPost(config.mail, urlOf);
  const ways = { resolve: systemResolve, local: config.localHooks };
  const outbox = new Outbox({
    ...{ records, clock, after, warn },
    post: {
      hook: (to, id, payload) => postHook(to, { id, payload }, { ...ways, clock }),
      ...(mail && { mail: (to, about) => mail.notices(to, about) }),
    },
  });
  const watch = new NoticeWatch({
    ...{ records, clock, random, after, urlOf, warn, mail: mail !== undefined },
    scene: async (project) => {
      const room = await rooms().open(project);
      return { gates: room.snapshot().gates, threads: room.threads() };
    },
    told: (project, account) => feed.notices(project, account),
    posted: () => void outbox.run(),
  });
  return {
    desk: {
      changed: (project, account) => feed.notices(project, account),
      hookProblem: (url) => hookProblem(url, ways),
      ...(mail && { mailCode: (to, code) => mail.code(to, code) }),
    },
    noted: (project) => watch.noted(project),
    start: () => void outbox.run(),
    close: async () => {
      await watch.close();
      await outbox.close();
      mail?.close();
    },
  };
}
