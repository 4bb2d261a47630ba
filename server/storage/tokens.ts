import type { TokenScope } from '../../shared/protocol/tokens.ts';

/** A key for scripts: acts for its account in one project, within its scopes. */
export interface ApiToken {
  /** SHA-256 of what the script sends, hex. */
  readonly id: string;
  readonly projectId: string;
  readonly accountId: string;
  readonly name: string;
  readonly scopes: readonly TokenScope[];
  readonly createdAt: string;
  readonly expiresAt: string;
  readonly lastUsedAt: string | null;
  readonly revokedAt: string | null;
}

/** What was answered to a request that bore an Idempotency-Key. */
export interface KeptAnswer {
  /** Names account, project and key. */
  readonly id: string;
  /** SHA-256 of the request, hex. */
  readonly request: string;
  readonly status: number;
  readonly body: string;
  readonly at: string;
}

/** The part of the records that scripts need. */
export interface TokenRecords {
  addToken(token: ApiToken): Promise<void>;
  token(id: string): Promise<ApiToken | undefined>;
  /** Newest first. */
  tokens(projectId: string): Promise<readonly ApiToken[]>;
  touchToken(id: string, at: string): Promise<void>;
  /** False if it was revoked before, or is of another project. */
  revokeToken(projectId: string, id: string, at: string): Promise<boolean>;
  keptAnswer(id: string): Promise<KeptAnswer | undefined>;
  /** Replaces an older one under the same id. */
  keepAnswer(answer: KeptAnswer): Promise<void>;
  /** Removes what was kept before `at`; returns how many. */
  forgetAnswers(at: string): Promise<number>;
}
