import type { ConcessionView } from '../gates/concession.ts';
import type { GateView } from '../gates/readiness.ts';
import type { Verdict } from '../rules/verdict.ts';
import type { PartView, ScanView } from './http.ts';
import type { PlanView } from './plan.ts';
import type { RevisionView } from './revisions.ts';

/** Raised when an event changes shape; a client of another version is told to reload. */
export const PROTOCOL = 2;

/** What people decided besides signing. */
export interface DecidedMessage {
  readonly plan: PlanView;
  /** Every one ever granted, oldest first, and where it stands. */
  readonly concessions: readonly ConcessionView[];
}

/** Everything a reviewer needs to start from: sent on join and after a gap. */
export interface FeedSnapshot extends DecidedMessage {
  readonly protocol: number;
  readonly project: string;
  /** Counts up by one with every delta. */
  readonly rev: number;
  /** Journal number up to which the rules have run. */
  readonly seq: number;
  readonly ruleSet: number;
  readonly verdicts: readonly Verdict[];
  readonly gates: readonly GateView[];
}

/** What one turn changed. `rev` follows the last one without a gap, else the client asks for a snapshot. */
export interface FeedDelta {
  readonly rev: number;
  readonly seq: number;
  readonly changed: readonly Verdict[];
  readonly cleared: readonly string[];
}

/** Why the server will not go on with this socket. */
export interface FeedRefusal {
  readonly code: 'not-signed-in' | 'not-found' | 'protocol';
  readonly detail: string;
}

/** Server to browser. */
export interface ServerEvents {
  snapshot(message: FeedSnapshot): void;
  delta(message: FeedDelta): void;
  gates(message: readonly GateView[]): void;
  /** The plan or where a concession stands has changed; sent before the gates that follow from it. */
  decided(message: DecidedMessage): void;
  scans(message: readonly ScanView[]): void;
  parts(message: readonly PartView[]): void;
  /** Newest first. */
  revisions(message: readonly RevisionView[]): void;
  /** One's own notices in this project are others now. */
  notices(): void;
  refused(message: FeedRefusal): void;
  /** The project went read-only, and why; null when it can be written again. */
  trouble(message: string | null): void;
}

/** Browser to server. */
export interface ClientEvents {
  join(message: { readonly project: string; readonly protocol: number }): void;
  resync(): void;
}
