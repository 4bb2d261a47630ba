import type { Readable } from 'node:stream';
import type { Bounds, ScanUnit } from '../../shared/protocol/http.ts';
import type { Role } from '../../shared/protocol/roles.ts';
import type { SignedHead } from '../../shared/record/head.ts';
import type { Changes } from './changes.ts';
import type { LeavingRecords } from './leaving.ts';
import type { NoticeRecords } from './notices.ts';
import type { PasskeyRecords } from './passkeys.ts';
import type { PhotoRecords } from './photos.ts';
import type { RevisionRecords } from './revisions.ts';
import type { TokenRecords } from './tokens.ts';

// Rows as the rest of the server sees them. Times are ISO 8601 text, given by the caller's clock: storage has none.

export interface Account {
  readonly id: string;
  /** Lower case, NFC. */
  readonly login: string;
  readonly name: string;
  readonly passwordHash: string;
  readonly createdAt: string;
}

export interface Session {
  /** SHA-256 of the cookie's value, hex. */
  readonly id: string;
  readonly accountId: string;
  readonly createdAt: string;
  readonly lastSeenAt: string;
  readonly expiresAt: string;
}

export interface Project {
  readonly id: string;
  readonly name: string;
  readonly createdAt: string;
}

export interface Member {
  readonly projectId: string;
  readonly accountId: string;
  readonly roles: readonly Role[];
}

export interface Membership {
  readonly project: Project;
  readonly roles: readonly Role[];
}

export interface Participant {
  readonly account: Account;
  readonly roles: readonly Role[];
}

export interface Invite {
  /** SHA-256 of the link's token, hex. */
  readonly id: string;
  readonly projectId: string;
  readonly role: Role;
  readonly createdBy: string;
  readonly createdAt: string;
  readonly expiresAt: string;
  readonly usedAt: string | null;
  readonly usedBy: string | null;
  readonly revokedAt: string | null;
}

export interface Acceptance {
  readonly inviteId: string;
  readonly at: string;
  /** A new account is added in the same transaction; text is the id of an account that exists. */
  readonly account: Account | string;
}

/** `gone`: used, revoked, expired or never made. `taken`: the new account's login exists. */
export type AcceptanceOutcome =
  | { readonly kind: 'accepted'; readonly member: Member }
  | { readonly kind: 'gone' }
  | { readonly kind: 'taken' };

export interface Scan {
  readonly id: string;
  readonly projectId: string;
  readonly sha256: string;
  readonly name: string;
  readonly bytes: number;
  readonly points: number;
  readonly format: string;
  readonly unit: ScanUnit;
  /** Metres. */
  readonly bounds: Bounds;
  /** Metres. */
  readonly spacing: number | null;
  /** Points of the file without a place, left out; null for a scan read before they were counted. */
  readonly unplaced: number | null;
  readonly uploadedBy: string;
  readonly createdAt: string;
}

/** A mesh of something that is printed or bought, as it was uploaded. */
export interface Part {
  readonly id: string;
  readonly projectId: string;
  readonly sha256: string;
  readonly name: string;
  readonly bytes: number;
  readonly triangles: number;
  readonly format: string;
  readonly unit: ScanUnit;
  /** Whether the file itself states its unit, which then counts. */
  readonly unitStated: boolean;
  /** Metres. */
  readonly bounds: Bounds;
  readonly uploadedBy: string;
  readonly createdAt: string;
}

export interface SignOff {
  readonly id: string;
  readonly projectId: string;
  readonly gate: string;
  /** Place in the project's chain, from 1. */
  readonly seq: number;
  /** Canonical JSON, kept byte for byte: the hash is over this text. */
  readonly statement: string;
  readonly hash: string;
  readonly previousHash: string;
  readonly accountId: string;
  readonly createdAt: string;
}

export interface ClientBinding {
  readonly projectId: string;
  readonly doc: string;
  readonly clientId: number;
  readonly accountId: string;
}

/** The decided lane. Every method is one transaction: it happened wholly or not at all. */
export interface Records
  extends RevisionRecords,
    TokenRecords,
    NoticeRecords,
    LeavingRecords,
    PasskeyRecords,
    PhotoRecords {
  /** `taken` if the login exists. */
  addAccount(account: Account): Promise<'added' | 'taken'>;
  /** Adds only while there is no account at all, so two setups at once make one owner. */
  addFirstAccount(account: Account): Promise<'added' | 'taken'>;
  anyAccount(): Promise<boolean>;
  account(id: string): Promise<Account | undefined>;
  accountByLogin(login: string): Promise<Account | undefined>;

  addSession(session: Session): Promise<void>;
  session(id: string): Promise<Session | undefined>;
  /** Does nothing for a session that has ended. */
  touchSession(id: string, lastSeenAt: string): Promise<void>;
  removeSession(id: string): Promise<void>;
  /** Removes what ended before `at` or was last seen before `idleSince`; returns how many. */
  removeEndedSessions(at: string, idleSince: string): Promise<number>;

  addProject(project: Project, first: Member): Promise<void>;
  project(id: string): Promise<Project | undefined>;
  /** Oldest first. */
  membershipsOf(accountId: string): Promise<readonly Membership[]>;
  /** By name. */
  participants(projectId: string): Promise<readonly Participant[]>;
  member(projectId: string, accountId: string): Promise<Member | undefined>;
  /** Adds the member or replaces its roles. */
  putMember(member: Member): Promise<void>;

  addInvite(invite: Invite): Promise<void>;
  invite(id: string): Promise<Invite | undefined>;
  /** Newest first. */
  invites(projectId: string): Promise<readonly Invite[]>;
  /** False if it was not open any more (or never was in that project). */
  revokeInvite(projectId: string, id: string, at: string): Promise<boolean>;
  /** Marks it used, adds the account if new, and adds the role to the roles already held. */
  acceptInvite(acceptance: Acceptance): Promise<AcceptanceOutcome>;

  /** The row that is there already for the same project, file and unit, or the new one. */
  addScan(scan: Scan): Promise<Scan>;
  scan(projectId: string, id: string): Promise<Scan | undefined>;
  /** Oldest first. */
  scans(projectId: string): Promise<readonly Scan[]>;

  /** The row that is there already for the same project, file and unit, or the new one. */
  addPart(part: Part): Promise<Part>;
  part(projectId: string, id: string): Promise<Part | undefined>;
  /** Oldest first. */
  parts(projectId: string): Promise<readonly Part[]>;

  /**
   * The row and the head of the record with that row last, together or not at all. `moved` if seq is not one past the chain's end
   * or previousHash is not the last row's hash.
   */
  appendSignOff(row: SignOff, head: SignedHead): Promise<'appended' | 'moved'>;
  /** In chain order; of all gates when none is named. */
  signOffs(projectId: string, gate?: string): Promise<readonly SignOff[]>;
  lastSignOff(projectId: string): Promise<SignOff | undefined>;
  /** Smallest first. */
  heads(projectId: string): Promise<readonly SignedHead[]>;

  /** First come, first bound: returns the account the id belongs to from now on. */
  bindClient(binding: ClientBinding): Promise<string>;
  clientBindings(projectId: string, doc: string): Promise<ReadonlyMap<number, string>>;

  setting(key: string): Promise<string | undefined>;
  putSetting(key: string, value: string): Promise<void>;

  /** Rejects unless a write would work now. */
  probe(): Promise<void>;
  close(): Promise<void>;
}

export interface JournalContent {
  /** A snapshot first if there is one, then every later update, in the order they were kept. */
  readonly updates: readonly Uint8Array[];
  /** Of the last of these; 0 when there are none. */
  readonly seq: number;
}

/**
 * The authored lane. Sequence numbers rise by one per project over all its documents and never repeat, also after
 * compaction and restart. A promise resolves only once the bytes are safe against power loss.
 */
export interface Journal {
  /**
   * Rejects with a JournalFault. Then it is not known to be kept: if the log's thread died between commit and answer it
   * is there after all, so whoever sends it again must be able to bear it twice (Yjs updates are).
   */
  append(project: string, doc: string, update: Uint8Array, account: string): Promise<number>;
  load(project: string, doc: string): Promise<JournalContent>;
  /** One transaction: everything of `doc` up to `upToSeq` gives way to `snapshot`, which takes that number. */
  replaceWithSnapshot(project: string, doc: string, snapshot: Uint8Array, upToSeq: number): Promise<void>;
  /** Last number given in the project, 0 if none. */
  head(project: string): Promise<number>;
  /** Who changed what, derived from the entries by whoever can read them. */
  readonly changes: Changes;
  /** True after a failed write: appends are refused until recover() has succeeded. */
  readonly readOnly: boolean;
  /** Opens the log anew and tries a write. Rejects with a JournalFault while the trouble lasts. */
  recover(): Promise<void>;
  /** Commits what is queued, then lets go of the file. */
  close(): Promise<void>;
}

export const journalFaults = ['write-failed', 'read-only', 'damaged', 'unknown-sequence', 'closed'] as const;
export type JournalFaultCode = (typeof journalFaults)[number];

/** write-failed: this write and all queued with it. damaged: an entry's checksum does not match its bytes. */
export class JournalFault extends Error {
  readonly code: JournalFaultCode;
  constructor(code: JournalFaultCode, detail: string) {
    super(detail);
    this.name = 'JournalFault';
    this.code = code;
  }
}

export interface Blob {
  /** Hex. */
  readonly sha256: string;
  readonly bytes: number;
}

/** Files by content. What is named is safe against power loss; the same content is kept once. */
export interface Blobs {
  /** Takes over a local file (it is gone from its old place afterwards). */
  adopt(file: string): Promise<Blob>;
  write(content: Uint8Array): Promise<Blob>;
  /** A local path to read from, undefined if not kept. Nobody may write there. */
  localFile(sha256: string): Promise<string | undefined>;
  read(sha256: string): Promise<Readable | undefined>;
  /** True only if the bytes still have that hash. */
  verify(sha256: string): Promise<boolean>;
  remove(sha256: string): Promise<void>;
}
