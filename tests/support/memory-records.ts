import type { LeavingRecords } from '../../server/storage/leaving.ts';
import type { NoticeRecords } from '../../server/storage/notices.ts';
import type { PasskeyRecords } from '../../server/storage/passkeys.ts';
import type { PhotoRecords } from '../../server/storage/photos.ts';
import type {
  Acceptance,
  AcceptanceOutcome,
  Account,
  ClientBinding,
  Invite,
  Member,
  Part,
  Project,
  Records,
  Scan,
  Session,
  SignOff,
} from '../../server/storage/ports.ts';
import type { Revision } from '../../server/storage/revisions.ts';
import type { TokenRecords } from '../../server/storage/tokens.ts';
import type { SignedHead } from '../../shared/record/head.ts';
import { MemoryNotices } from './memory-notices.ts';
import { MemorySigning } from './memory-signing.ts';
import { MemoryTokens } from './memory-tokens.ts';

/** Records that end with the process. The contract suite holds it to the same behaviour as the real ones. */
export function memoryRecords(): Records {
  const tokens = new MemoryTokens();
  return bound([new MemoryRecords(tokens), tokens, new MemoryNotices(), new MemorySigning()]);
}

type WorkRecords = Omit<Records, keyof TokenRecords | keyof NoticeRecords | keyof PasskeyRecords | keyof PhotoRecords>;
type All = readonly [WorkRecords & LeavingRecords, TokenRecords, NoticeRecords, PasskeyRecords & PhotoRecords];

/** One object out of several, each method on its own. */
function bound(parts: All): Records {
  const all = parts.flatMap((one) =>
    Object.getOwnPropertyNames(Object.getPrototypeOf(one)).map((name) => {
      const method: unknown = Reflect.get(one, name);
      return [name, typeof method === 'function' ? method.bind(one) : method];
    }),
  );
  return Object.fromEntries(all);
}

class MemoryRecords implements WorkRecords {
  readonly #tokens: MemoryTokens;
  #accounts = new Map<string, Account>();
  #sessions = new Map<string, Session>();
  #projects = new Map<string, Project>();
  #members: Member[] = [];
  #invites = new Map<string, Invite>();
  #scans: Scan[] = [];
  #parts: Part[] = [];
  #signOffs: SignOff[] = [];
  #heads: SignedHead[] = [];
  #clients: ClientBinding[] = [];
  #settings = new Map<string, string>();
  #revisions: Revision[] = [];

  constructor(tokens: MemoryTokens) {
    this.#tokens = tokens;
  }

  async addAccount(account: Account) {
    return this.#addAccount(account);
  }
  async addFirstAccount(account: Account) {
    return this.#accounts.size > 0 ? 'taken' : this.#addAccount(account);
  }
  async anyAccount() {
    return this.#accounts.size > 0;
  }
  async account(id: string) {
    return this.#accounts.get(id);
  }
  async accountByLogin(login: string) {
    return [...this.#accounts.values()].find((account) => account.login === login);
  }

  async addSession(session: Session) {
    this.#accountOf(session.accountId);
    this.#sessions.set(session.id, session);
  }
  async session(id: string) {
    return this.#sessions.get(id);
  }
  async touchSession(id: string, lastSeenAt: string) {
    const session = this.#sessions.get(id);
    if (session) this.#sessions.set(id, { ...session, lastSeenAt });
  }
  async removeSession(id: string) {
    this.#sessions.delete(id);
  }
  async removeEndedSessions(at: string, idleSince: string) {
    const ended = [...this.#sessions.values()].filter((one) => one.expiresAt <= at || one.lastSeenAt < idleSince);
    for (const { id } of ended) this.#sessions.delete(id);
    return ended.length;
  }

  async addProject(project: Project, first: Member) {
    this.#accountOf(first.accountId);
    this.#projects.set(project.id, project);
    this.#putMember(first);
  }
  async project(id: string) {
    return this.#projects.get(id);
  }
  async membershipsOf(accountId: string) {
    return this.#members
      .filter((member) => member.accountId === accountId)
      .map(({ projectId, roles }) => ({ project: this.#projectOf(projectId), roles }))
      .sort((a, b) => order(a.project.createdAt, b.project.createdAt) || order(a.project.id, b.project.id));
  }
  async participants(projectId: string) {
    return this.#members
      .filter((member) => member.projectId === projectId)
      .map(({ accountId, roles }) => ({ account: this.#accountOf(accountId), roles }))
      .sort((a, b) => order(a.account.name, b.account.name) || order(a.account.id, b.account.id));
  }
  async member(projectId: string, accountId: string) {
    return this.#memberOf(projectId, accountId);
  }
  async putMember(member: Member) {
    this.#putMember(member);
  }

  async removeMember(projectId: string, accountId: string, at: string) {
    const members = this.#members.filter((member) => member.projectId === projectId);
    const leaving = members.find((member) => member.accountId === accountId);
    if (!leaving) return 'not-there';
    const leads = members.filter(({ roles }) => roles.includes('lead'));
    if (leads.length === 1 && leads[0] === leaving) return 'last-lead';
    this.#members = this.#members.filter((member) => member !== leaving);
    this.#tokens.revokeOf(projectId, accountId, at);
    for (const one of this.#invites.values())
      if (one.projectId === projectId && one.createdBy === accountId && one.usedAt === null && one.revokedAt === null)
        this.#invites.set(one.id, { ...one, revokedAt: at });
    return 'removed';
  }

  async addInvite(invite: Invite) {
    this.#projectOf(invite.projectId);
    this.#invites.set(invite.id, invite);
  }
  async invite(id: string) {
    return this.#invites.get(id);
  }
  async invites(projectId: string) {
    return [...this.#invites.values()]
      .filter((invite) => invite.projectId === projectId)
      .sort((a, b) => order(b.createdAt, a.createdAt) || order(a.id, b.id));
  }
  async revokeInvite(projectId: string, id: string, at: string) {
    const invite = this.#openInvite(id, at);
    if (!invite || invite.projectId !== projectId) return false;
    this.#invites.set(id, { ...invite, revokedAt: at });
    return true;
  }
  async acceptInvite({ inviteId, at, account }: Acceptance): Promise<AcceptanceOutcome> {
    const invite = this.#openInvite(inviteId, at);
    if (!invite) return { kind: 'gone' };
    if (typeof account !== 'string' && this.#addAccount(account) === 'taken') return { kind: 'taken' };
    const accountId = typeof account === 'string' ? this.#accountOf(account).id : account.id;
    this.#invites.set(inviteId, { ...invite, usedAt: at, usedBy: accountId });
    const held = this.#memberOf(invite.projectId, accountId)?.roles ?? [];
    const roles = held.includes(invite.role) ? held : [...held, invite.role];
    const member = { projectId: invite.projectId, accountId, roles };
    this.#putMember(member);
    return { kind: 'accepted', member };
  }

  async addScan(scan: Scan) {
    const same = (one: Scan) =>
      one.projectId === scan.projectId && one.sha256 === scan.sha256 && one.unit === scan.unit;
    const before = this.#scans.find(same);
    if (!before) this.#scans.push(scan);
    return before ?? scan;
  }
  async scan(projectId: string, id: string) {
    return this.#scans.find((scan) => scan.projectId === projectId && scan.id === id);
  }
  async scans(projectId: string) {
    return this.#scans
      .filter((scan) => scan.projectId === projectId)
      .sort((a, b) => order(a.createdAt, b.createdAt) || order(a.id, b.id));
  }

  async addPart(part: Part) {
    const same = (one: Part) =>
      one.projectId === part.projectId && one.sha256 === part.sha256 && one.unit === part.unit;
    const before = this.#parts.find(same);
    if (!before) this.#parts.push(part);
    return before ?? part;
  }
  async part(projectId: string, id: string) {
    return this.#parts.find((part) => part.projectId === projectId && part.id === id);
  }
  async parts(projectId: string) {
    return this.#parts
      .filter((part) => part.projectId === projectId)
      .sort((a, b) => order(a.createdAt, b.createdAt) || order(a.id, b.id));
  }

  async appendSignOff(row: SignOff, head: SignedHead) {
    // No await between looking and writing: the real records do both in one transaction.
    const last = this.#chain(row.projectId).at(-1);
    const follows = last ? row.seq === last.seq + 1 && row.previousHash === last.hash : row.seq === 1;
    if (follows) {
      this.#signOffs.push(row);
      this.#heads.push(head);
    }
    return follows ? 'appended' : 'moved';
  }
  async signOffs(projectId: string, gate?: string) {
    return this.#chain(projectId).filter((row) => gate === undefined || row.gate === gate);
  }
  async lastSignOff(projectId: string) {
    return this.#chain(projectId).at(-1);
  }
  async heads(projectId: string) {
    return this.#heads.filter((head) => head.project === projectId);
  }

  async addRevision(revision: Omit<Revision, 'n'>) {
    this.#accountOf(revision.by);
    const of = this.#revisions.filter((one) => one.projectId === revision.projectId);
    const added = { ...revision, n: of.length + 1 };
    this.#revisions.push(added);
    return added;
  }
  async revision(projectId: string, id: string) {
    return this.#revisions.find((one) => one.projectId === projectId && one.id === id);
  }
  async revisions(projectId: string) {
    return this.#revisions.filter((one) => one.projectId === projectId).reverse();
  }

  async bindClient(binding: ClientBinding) {
    const before = this.#clients.find(
      (one) => one.projectId === binding.projectId && one.doc === binding.doc && one.clientId === binding.clientId,
    );
    if (!before) this.#clients.push(binding);
    return (before ?? binding).accountId;
  }
  async clientBindings(projectId: string, doc: string) {
    const bound = this.#clients.filter((one) => one.projectId === projectId && one.doc === doc);
    return new Map(bound.map(({ clientId, accountId }) => [clientId, accountId]));
  }

  async setting(key: string) {
    return this.#settings.get(key);
  }
  async putSetting(key: string, value: string) {
    this.#settings.set(key, value);
  }
  async probe() {}
  async close() {}

  #addAccount(account: Account): 'added' | 'taken' {
    if ([...this.#accounts.values()].some(({ login }) => login === account.login)) return 'taken';
    this.#accounts.set(account.id, account);
    return 'added';
  }
  #openInvite(id: string, at: string): Invite | undefined {
    const invite = this.#invites.get(id);
    return invite && invite.usedAt === null && invite.revokedAt === null && invite.expiresAt > at ? invite : undefined;
  }
  #memberOf(projectId: string, accountId: string): Member | undefined {
    return this.#members.find((member) => member.projectId === projectId && member.accountId === accountId);
  }
  #chain(projectId: string): SignOff[] {
    return this.#signOffs.filter((row) => row.projectId === projectId);
  }
  #putMember(member: Member): void {
    const { projectId, accountId } = member;
    this.#members = this.#members.filter((one) => one.projectId !== projectId || one.accountId !== accountId);
    this.#members.push(member);
  }
  #accountOf(id: string): Account {
    return present(this.#accounts.get(id), `account ${id}`);
  }
  #projectOf(id: string): Project {
    return present(this.#projects.get(id), `project ${id}`);
  }
}

function present<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`there is no ${what}`);
  return value;
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
