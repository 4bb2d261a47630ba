import { isRole, type Role } from '../../../shared/protocol/roles.ts';
import type { Invite, Member, Records } from '../ports.ts';
import type { RecordsDatabase, Transaction } from './database.ts';

type ProjectRecords = Pick<
  Records,
  | 'addProject'
  | 'project'
  | 'membershipsOf'
  | 'participants'
  | 'member'
  | 'putMember'
  | 'addInvite'
  | 'invite'
  | 'invites'
  | 'revokeInvite'
  | 'acceptInvite'
>;

export function projectRecords(db: RecordsDatabase): ProjectRecords {
  return { ...projectAndMembers(db), ...invitesAndAcceptance(db) };
}

function projectAndMembers(db: RecordsDatabase) {
  return {
    addProject: (project, first) =>
      db.transaction(async (tx) => {
        await tx.project.create({ data: project });
        await putMember(tx, first);
      }),
    project: (id) => db.query(async (tx) => (await tx.project.findUnique({ where: { id } })) ?? undefined),
    membershipsOf: (accountId) =>
      db.query(async (tx) => {
        const rows = await tx.member.findMany({
          where: { accountId },
          include: { project: true },
          orderBy: [{ project: { createdAt: 'asc' } }, { projectId: 'asc' }],
        });
        return rows.map((row) => ({ project: row.project, roles: readRoles(row.roles) }));
      }),
    participants: (projectId) =>
      db.query(async (tx) => {
        const rows = await tx.member.findMany({
          where: { projectId },
          include: { account: true },
          orderBy: [{ account: { name: 'asc' } }, { accountId: 'asc' }],
        });
        return rows.map((row) => ({ account: row.account, roles: readRoles(row.roles) }));
      }),
    member: (projectId, accountId) => db.query((tx) => findMember(tx, projectId, accountId)),
    putMember: (member) => db.query((tx) => putMember(tx, member)),
  } satisfies Partial<ProjectRecords>;
}

function invitesAndAcceptance(db: RecordsDatabase) {
  return {
    addInvite: (invite) =>
      db.query(async (tx) => {
        await tx.invite.create({ data: invite });
      }),
    invite: (id) =>
      db.query(async (tx) => {
        const row = await tx.invite.findUnique({ where: { id } });
        return row ? readInvite(row) : undefined;
      }),
    invites: (projectId) =>
      db.query(async (tx) => {
        const rows = await tx.invite.findMany({
          where: { projectId },
          orderBy: [{ createdAt: 'desc' }, { id: 'asc' }],
        });
        return rows.map(readInvite);
      }),
    revokeInvite: (projectId, id, at) =>
      db.query(async (tx) => {
        const open = { id, projectId, usedAt: null, revokedAt: null, expiresAt: { gt: at } };
        return (await tx.invite.updateMany({ where: open, data: { revokedAt: at } })).count === 1;
      }),
    acceptInvite: (acceptance) =>
      db.transaction(async (tx) => {
        const { inviteId, at, account } = acceptance;
        const row = await tx.invite.findUnique({ where: { id: inviteId } });
        if (!row || row.usedAt !== null || row.revokedAt !== null || row.expiresAt <= at) return { kind: 'gone' };
        if (typeof account !== 'string') {
          if (await tx.account.findUnique({ where: { login: account.login } })) return { kind: 'taken' };
          await tx.account.create({ data: account });
        }
        const accountId = typeof account === 'string' ? account : account.id;
        await tx.invite.update({ where: { id: inviteId }, data: { usedAt: at, usedBy: accountId } });
        const { role } = readInvite(row);
        const held = (await findMember(tx, row.projectId, accountId))?.roles ?? [];
        const member = { projectId: row.projectId, accountId, roles: held.includes(role) ? held : [...held, role] };
        await putMember(tx, member);
        return { kind: 'accepted', member };
      }),
  } satisfies Partial<ProjectRecords>;
}

async function findMember(tx: Transaction, projectId: string, accountId: string): Promise<Member | undefined> {
  const row = await tx.member.findUnique({ where: { projectId_accountId: { projectId, accountId } } });
  return row ? { projectId, accountId, roles: readRoles(row.roles) } : undefined;
}

async function putMember(tx: Transaction, { projectId, accountId, roles }: Member): Promise<void> {
  const text = JSON.stringify(roles);
  await tx.member.upsert({
    where: { projectId_accountId: { projectId, accountId } },
    create: { projectId, accountId, roles: text },
    update: { roles: text },
  });
}

/** A role this version does not know gives no right rather than an error: the row may come from a newer version. */
function readRoles(text: string): readonly Role[] {
  const parsed: unknown = JSON.parse(text);
  return Array.isArray(parsed) ? parsed.filter((item): item is Role => typeof item === 'string' && isRole(item)) : [];
}

function readInvite(row: Omit<Invite, 'role'> & { role: string }): Invite {
  const { role } = row;
  if (!isRole(role)) throw new Error(`invite ${row.id} names the unknown role ${role}`);
  return { ...row, role };
}
