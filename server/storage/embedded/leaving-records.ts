import type { LeavingRecords } from '../leaving.ts';
import type { RecordsDatabase } from './database.ts';

export function leavingRecords(db: RecordsDatabase): LeavingRecords {
  return {
    removeMember: (projectId, accountId, at) =>
      db.transaction(async (tx) => {
        const members = await tx.member.findMany({ where: { projectId } });
        if (!members.some((one) => one.accountId === accountId)) return 'not-there';
        const leads = members.filter(({ roles }) => isLead(roles)).map((one) => one.accountId);
        if (leads.includes(accountId) && leads.length === 1) return 'last-lead';
        await tx.member.delete({ where: { projectId_accountId: { projectId, accountId } } });
        await tx.apiToken.updateMany({ where: { projectId, accountId, revokedAt: null }, data: { revokedAt: at } });
        const open = { projectId, createdBy: accountId, usedAt: null, revokedAt: null };
        await tx.invite.updateMany({ where: open, data: { revokedAt: at } });
        return 'removed';
      }),
  };
}

function isLead(roles: string): boolean {
  const held: unknown = JSON.parse(roles);
  return Array.isArray(held) && held.includes('lead');
}
