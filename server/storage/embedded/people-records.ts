import type { Records } from '../ports.ts';
import type { RecordsDatabase } from './database.ts';

type PeopleRecords = Pick<
  Records,
  | 'addAccount'
  | 'addFirstAccount'
  | 'anyAccount'
  | 'account'
  | 'accountByLogin'
  | 'addSession'
  | 'session'
  | 'touchSession'
  | 'removeSession'
  | 'removeEndedSessions'
>;

export function peopleRecords(db: RecordsDatabase): PeopleRecords {
  return { ...accountRecords(db), ...sessionRecords(db) };
}

function accountRecords(db: RecordsDatabase) {
  return {
    addAccount: (account) =>
      db.transaction(async (tx) => {
        if (await tx.account.findUnique({ where: { login: account.login } })) return 'taken';
        await tx.account.create({ data: account });
        return 'added';
      }),
    addFirstAccount: (account) =>
      db.transaction(async (tx) => {
        if ((await tx.account.count()) > 0) return 'taken';
        await tx.account.create({ data: account });
        return 'added';
      }),
    anyAccount: () => db.query(async (tx) => (await tx.account.findFirst({ select: { id: true } })) !== null),
    account: (id) => db.query(async (tx) => (await tx.account.findUnique({ where: { id } })) ?? undefined),
    accountByLogin: (login) => db.query(async (tx) => (await tx.account.findUnique({ where: { login } })) ?? undefined),
  } satisfies Partial<PeopleRecords>;
}

function sessionRecords(db: RecordsDatabase) {
  return {
    addSession: (session) =>
      db.query(async (tx) => {
        await tx.session.create({ data: session });
      }),
    session: (id) => db.query(async (tx) => (await tx.session.findUnique({ where: { id } })) ?? undefined),
    touchSession: (id, lastSeenAt) =>
      db.query(async (tx) => {
        await tx.session.updateMany({ where: { id }, data: { lastSeenAt } });
      }),
    removeSession: (id) =>
      db.query(async (tx) => {
        await tx.session.deleteMany({ where: { id } });
      }),
    removeEndedSessions: (at, idleSince) =>
      db.query(async (tx) => {
        const ended = { OR: [{ expiresAt: { lte: at } }, { lastSeenAt: { lt: idleSince } }] };
        return (await tx.session.deleteMany({ where: ended })).count;
      }),
  } satisfies Partial<PeopleRecords>;
}
