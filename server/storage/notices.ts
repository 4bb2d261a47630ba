import type { NoticeKind, NoticePlace } from '../../shared/protocol/notices.ts';

/** Something that stands now and that one person has to know of. */
export interface StandingNotice {
  readonly accountId: string;
  readonly kind: NoticeKind;
  /** What it is about: the same thing has the same subject for as long as it stands. */
  readonly subject: string;
  readonly words: string;
  readonly place: NoticePlace;
}

/** What one person was told of. */
export interface Notice extends StandingNotice {
  readonly id: string;
  readonly projectId: string;
  readonly at: string;
  readonly readAt: string | null;
  /** When it stopped to stand; null while it does. */
  readonly overAt: string | null;
}

/** One message on its way out. */
export interface Delivery {
  /** Also the id of the message: the same at every try. */
  readonly id: string;
  readonly projectId: string;
  readonly way: 'mail' | 'hook';
  /** Account of a mail, id of a hook. */
  readonly recipient: string;
  /** The notice it carries, one of them when several people get the same. */
  readonly noticeId: string;
  /** Body of a hook's message; empty for mail, which is written when it is sent. */
  readonly payload: string;
  readonly createdAt: string;
  readonly tries: number;
  readonly nextAt: string;
  readonly doneAt: string | null;
  readonly givenUpAt: string | null;
  readonly lastError: string | null;
}

/** Where a project's notices are posted to. */
export interface Hook {
  readonly id: string;
  readonly projectId: string;
  readonly url: string;
  /** As standardwebhooks reads it. */
  readonly secret: string;
  readonly createdBy: string;
  readonly createdAt: string;
  readonly endedAt: string | null;
}

/** How deliveries to one recipient went. */
export interface DeliveryCount {
  readonly delivered: number;
  readonly waiting: number;
  readonly givenUp: number;
  readonly lastError: string | null;
}

/** A person's address, used once it is confirmed. */
export interface MailAddress {
  readonly accountId: string;
  readonly address: string;
  /** SHA-256 of the code that was mailed to it, hex. */
  readonly codeHash: string | null;
  readonly codeUntil: string | null;
  /** Wrong codes typed so far. */
  readonly tries: number;
  readonly confirmedAt: string | null;
}

/** All that stands in a project now. */
export interface Standing {
  readonly projectId: string;
  readonly at: string;
  readonly standing: readonly StandingNotice[];
  /** What was over no longer ago than this and stands again goes on as the same notice. */
  readonly overSince: string;
  readonly newId: () => string;
  /** What goes out for notices that are new; kept with them. */
  readonly deliveries: (fresh: readonly Notice[]) => readonly Delivery[];
}

/** What telling changed: accounts whose list is another one now. */
export interface Told {
  readonly fresh: readonly Notice[];
  readonly accounts: readonly string[];
}

/** The part of the records that holds notices, and what carries them out. */
export interface NoticeRecords {
  /** Compares what stands with what was told, in one transaction: what is new is told once, what no longer stands is over. */
  tell(standing: Standing): Promise<Told>;
  /** Of one person, those that stand, newest first. */
  notices(projectId: string, accountId: string): Promise<readonly Notice[]>;
  notice(id: string): Promise<Notice | undefined>;
  /** Returns how many had not been read. */
  readNotices(projectId: string, accountId: string, ids: readonly string[], at: string): Promise<number>;

  /** Deliveries whose time has come, oldest first. */
  dueDeliveries(at: string, limit: number): Promise<readonly Delivery[]>;
  /** Time of the next that waits, undefined when none does. */
  nextDelivery(): Promise<string | undefined>;
  /** Writes tries, times and error of these. */
  putDeliveries(deliveries: readonly Delivery[]): Promise<void>;
  /** When the last mail of a project went to this account; undefined: never. */
  lastMail(projectId: string, accountId: string): Promise<string | undefined>;
  /** Those of one recipient that wait. */
  waitingDeliveries(projectId: string, recipient: string): Promise<readonly Delivery[]>;
  countDeliveries(recipient: string): Promise<DeliveryCount>;

  addHook(hook: Hook): Promise<void>;
  hook(id: string): Promise<Hook | undefined>;
  /** Those not ended, oldest first. */
  hooks(projectId: string): Promise<readonly Hook[]>;
  /** False if it had ended, or is of another project. */
  endHook(projectId: string, id: string, at: string): Promise<boolean>;

  mailAddress(accountId: string): Promise<MailAddress | undefined>;
  putMailAddress(address: MailAddress): Promise<void>;
  removeMailAddress(accountId: string): Promise<void>;
}

/** What is to be written so that the notices kept say what stands. Pure. */
export function settle(
  kept: readonly Notice[],
  { projectId, at, standing, overSince, newId }: Standing,
): { readonly fresh: readonly Notice[]; readonly revived: readonly Notice[]; readonly over: readonly Notice[] } {
  const key = ({ accountId, subject }: StandingNotice): string => JSON.stringify([accountId, subject]);
  const open = new Map(kept.filter(({ overAt }) => overAt === null).map((one) => [key(one), one]));
  const lately = new Map(
    kept.filter(({ overAt }) => overAt !== null && overAt >= overSince).map((one) => [key(one), one]),
  );
  const wanted = new Map(standing.map((one) => [key(one), one]));
  const missing = [...wanted].filter(([name]) => !open.has(name));
  return {
    revived: missing.flatMap(([name]) => lately.get(name) ?? []),
    fresh: missing
      .filter(([name]) => !lately.has(name))
      .map(([, one]) => ({ ...one, id: newId(), projectId, at, readAt: null, overAt: null })),
    over: [...open].filter(([name]) => !wanted.has(name)).map(([, one]) => one),
  };
}
