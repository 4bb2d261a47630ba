import type { PasskeyRecords } from '../passkeys.ts';
import type { RecordsDatabase } from './database.ts';

export function passkeyRecords(db: RecordsDatabase): PasskeyRecords {
  return {
    addPasskey: (passkey) =>
      db.transaction(async (tx) => {
        if (await tx.passkey.findUnique({ where: { id: passkey.id } })) return 'taken';
        await tx.passkey.create({ data: passkey });
        return 'added';
      }),
    passkeys: (accountId) =>
      db.query((tx) => tx.passkey.findMany({ where: { accountId }, orderBy: [{ createdAt: 'asc' }, { id: 'asc' }] })),
    passkey: (id) => db.query(async (tx) => (await tx.passkey.findUnique({ where: { id } })) ?? undefined),
    touchPasskey: (id, { counter, at }) =>
      db.query(async (tx) => {
        await tx.passkey.updateMany({ where: { id }, data: { counter, lastUsedAt: at } });
      }),
    removePasskey: (accountId, id) =>
      db.query(async (tx) => (await tx.passkey.deleteMany({ where: { id, accountId } })).count === 1),
  };
}
