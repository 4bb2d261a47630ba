import { noticeKinds, noticePlaceSchema } from '../../../shared/protocol/notices.ts';
import { type Delivery, type Notice, type NoticeRecords, settle } from '../notices.ts';
import type { RecordsDatabase, Transaction } from './database.ts';

export function noticeRecords(db: RecordsDatabase): NoticeRecords {
  return { ...told(db), ...outbox(db), ...hooks(db), ...addresses(db) };
}

/** Notices shown at most; whoever has more has stopped to read them. */
const SHOWN = 200;

function told(db: RecordsDatabase) {
  return {
    tell: (standing) =>
      db.transaction(async (tx) => {
        const { projectId, at, overSince } = standing;
        const lately = { OR: [{ overAt: null }, { overAt: { gte: overSince } }] };
        const kept = (await tx.notice.findMany({ where: { projectId, ...lately } })).map(read);
        const { fresh, revived, over } = settle(kept, standing);
        for (const notice of fresh) await tx.notice.create({ data: written(notice) });
        await setOver(tx, revived, null);
        await setOver(tx, over, at);
        for (const delivery of fresh.length > 0 ? standing.deliveries(fresh) : [])
          await tx.delivery.create({ data: delivery });
        return { fresh, accounts: [...new Set([...fresh, ...revived, ...over].map((one) => one.accountId))] };
      }),
    notices: (projectId, accountId) =>
      db.query(async (tx) => {
        const rows = await tx.notice.findMany({
          where: { projectId, accountId, overAt: null },
          orderBy: [{ at: 'desc' }, { id: 'asc' }],
          take: SHOWN,
        });
        return rows.map(read);
      }),
    notice: (id) =>
      db.query(async (tx) => {
        const row = await tx.notice.findUnique({ where: { id } });
        return row ? read(row) : undefined;
      }),
    readNotices: (projectId, accountId, ids, readAt) =>
      db.query(async (tx) => {
        const unread = { projectId, accountId, id: { in: [...ids] }, readAt: null };
        return (await tx.notice.updateMany({ where: unread, data: { readAt } })).count;
      }),
  } satisfies Partial<NoticeRecords>;
}

async function setOver(tx: Transaction, notices: readonly Notice[], overAt: string | null): Promise<void> {
  const ids = notices.map(({ id }) => id);
  if (ids.length > 0) await tx.notice.updateMany({ where: { id: { in: ids } }, data: { overAt } });
}

const waiting = { doneAt: null, givenUpAt: null };

function outbox(db: RecordsDatabase) {
  return {
    dueDeliveries: (at, limit) =>
      db.query(async (tx) => {
        const where = { ...waiting, nextAt: { lte: at } };
        const rows = await tx.delivery.findMany({ where, orderBy: [{ nextAt: 'asc' }, { id: 'asc' }], take: limit });
        return rows.map(delivery);
      }),
    nextDelivery: () =>
      db.query(async (tx) => (await tx.delivery.findFirst({ where: waiting, orderBy: { nextAt: 'asc' } }))?.nextAt),
    putDeliveries: (deliveries) =>
      db.transaction(async (tx) => {
        for (const { id, tries, nextAt, doneAt, givenUpAt, lastError } of deliveries)
          await tx.delivery.update({ where: { id }, data: { tries, nextAt, doneAt, givenUpAt, lastError } });
      }),
    lastMail: (projectId, recipient) =>
      db.query(async (tx) => {
        const where = { projectId, way: 'mail', recipient, doneAt: { not: null }, lastError: null };
        return (await tx.delivery.findFirst({ where, orderBy: { doneAt: 'desc' } }))?.doneAt ?? undefined;
      }),
    waitingDeliveries: (projectId, recipient) =>
      db.query(async (tx) => {
        const where = { ...waiting, projectId, recipient };
        return (await tx.delivery.findMany({ where, orderBy: [{ createdAt: 'asc' }, { id: 'asc' }] })).map(delivery);
      }),
    countDeliveries: (recipient) =>
      db.query(async (tx) => {
        const last = await tx.delivery.findFirst({
          where: { recipient, OR: [{ doneAt: { not: null } }, { tries: { gt: 0 } }] },
          orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
        });
        return {
          delivered: await tx.delivery.count({ where: { recipient, doneAt: { not: null } } }),
          waiting: await tx.delivery.count({ where: { ...waiting, recipient } }),
          givenUp: await tx.delivery.count({ where: { recipient, givenUpAt: { not: null } } }),
          lastError: last?.lastError ?? null,
        };
      }),
  } satisfies Partial<NoticeRecords>;
}

function hooks(db: RecordsDatabase) {
  return {
    addHook: (hook) =>
      db.query(async (tx) => {
        await tx.hook.create({ data: hook });
      }),
    hook: (id) => db.query(async (tx) => (await tx.hook.findUnique({ where: { id } })) ?? undefined),
    hooks: (projectId) =>
      db.query((tx) =>
        tx.hook.findMany({ where: { projectId, endedAt: null }, orderBy: [{ createdAt: 'asc' }, { id: 'asc' }] }),
      ),
    endHook: (projectId, id, endedAt) =>
      db.query(async (tx) => {
        const open = { id, projectId, endedAt: null };
        return (await tx.hook.updateMany({ where: open, data: { endedAt } })).count === 1;
      }),
  } satisfies Partial<NoticeRecords>;
}

function addresses(db: RecordsDatabase) {
  return {
    mailAddress: (accountId) =>
      db.query(async (tx) => (await tx.mailAddress.findUnique({ where: { accountId } })) ?? undefined),
    putMailAddress: (address) =>
      db.query(async (tx) => {
        const { accountId } = address;
        await tx.mailAddress.upsert({ where: { accountId }, create: address, update: address });
      }),
    removeMailAddress: (accountId) =>
      db.query(async (tx) => {
        await tx.mailAddress.deleteMany({ where: { accountId } });
      }),
  } satisfies Partial<NoticeRecords>;
}

type NoticeRow = Omit<Notice, 'kind' | 'place'> & { readonly kind: string; readonly place: string };

function written(notice: Notice): NoticeRow {
  return { ...notice, place: JSON.stringify(notice.place) };
}

function read(row: NoticeRow): Notice {
  const kind = noticeKinds.find((one) => one === row.kind);
  if (!kind) throw new Error(`notice ${row.id} is of the unknown kind ${row.kind}`);
  return { ...row, kind, place: noticePlaceSchema.parse(JSON.parse(row.place)) };
}

function delivery(row: Omit<Delivery, 'way'> & { readonly way: string }): Delivery {
  return { ...row, way: row.way === 'mail' ? 'mail' : 'hook' };
}
