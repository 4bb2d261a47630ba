import type { GateView } from '../../shared/gates/readiness.ts';
import type { DecidedMessage, FeedDelta } from '../../shared/protocol/events.ts';
import type { PartView, ScanView } from '../../shared/protocol/http.ts';
import type { RevisionView } from '../../shared/protocol/revisions.ts';

/** What a room tells its reviewers; the room does not know how it travels. */
export interface RoomFeed {
  delta(project: string, message: FeedDelta): void;
  gates(project: string, message: readonly GateView[]): void;
  decided(project: string, message: DecidedMessage): void;
  scans(project: string, message: readonly ScanView[]): void;
  revisions(project: string, message: readonly RevisionView[]): void;
  parts(project: string, message: readonly PartView[]): void;
  trouble(project: string, message: string | null): void;
}
