import { tokenScopes } from '../../../shared/protocol/tokens.ts';
import type { ApiToken, TokenRecords } from '../tokens.ts';
import type { RecordsDatabase } from './database.ts';

export function tokenRecords(db: RecordsDatabase): TokenRecords {
  return {
    addToken: (token) =>
      db.query(async (tx) => {
        await tx.apiToken.create({ data: { ...token, scopes: JSON.stringify(token.scopes) } });
      }),
    token: (id) =>
      db.query(async (tx) => {
        const row = await tx.apiToken.findUnique({ where: { id } });
        return row ? read(row) : undefined;
      }),
    tokens: (projectId) =>
      db.query(async (tx) => {
        const rows = await tx.apiToken.findMany({
          where: { projectId },
          orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
        });
        return rows.map(read);
      }),
    touchToken: (id, lastUsedAt) =>
      db.query(async (tx) => {
        await tx.apiToken.updateMany({ where: { id }, data: { lastUsedAt } });
      }),
    revokeToken: (projectId, id, revokedAt) =>
      db.query(async (tx) => {
        const open = { id, projectId, revokedAt: null };
        return (await tx.apiToken.updateMany({ where: open, data: { revokedAt } })).count === 1;
      }),
    keptAnswer: (id) => db.query(async (tx) => (await tx.keptAnswer.findUnique({ where: { id } })) ?? undefined),
    keepAnswer: (answer) =>
      db.query(async (tx) => {
        await tx.keptAnswer.upsert({ where: { id: answer.id }, create: answer, update: answer });
      }),
    forgetAnswers: (at) =>
      db.query(async (tx) => (await tx.keptAnswer.deleteMany({ where: { at: { lt: at } } })).count),
  };
}

function read(row: Omit<ApiToken, 'scopes'> & { readonly scopes: string }): ApiToken {
  const kept: unknown = JSON.parse(row.scopes);
  // A scope of a newer version is none here.
  return { ...row, scopes: Array.isArray(kept) ? tokenScopes.filter((scope) => kept.includes(scope)) : [] };
}
