import { io, type Socket } from 'socket.io-client';
import type { GateView } from '../../shared/gates/readiness.ts';
import {
  type ClientEvents,
  type DecidedMessage,
  type FeedDelta,
  type FeedRefusal,
  type FeedSnapshot,
  PROTOCOL,
  type ServerEvents,
} from '../../shared/protocol/events.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import type { Signal } from './liveSignal.ts';

/** A socket.io client of the verdict feed that keeps all it hears. */
export interface LiveFeedClient {
  readonly socket: Socket<ServerEvents, ClientEvents>;
  readonly snapshots: readonly FeedSnapshot[];
  readonly deltas: readonly FeedDelta[];
  readonly refusals: readonly FeedRefusal[];
  readonly troubles: readonly (string | null)[];
  readonly errors: readonly string[];
  gates(): readonly GateView[];
  /** Plan and concessions as last heard. */
  decided(): DecidedMessage | null;
  verdicts(): ReadonlyMap<string, Verdict>;
  rev(): number;
  seq(): number;
  /** Resolves once a snapshot is there. */
  joined(): Promise<void>;
  close(): void;
}

export interface LiveFeedOptions {
  readonly origin: string;
  readonly cookie: string;
  readonly project: string;
  readonly signal: Signal;
  readonly protocol?: number;
}

/** Joins a project's feed. */
export function openLiveFeed({
  origin,
  cookie,
  project,
  signal,
  protocol = PROTOCOL,
}: LiveFeedOptions): LiveFeedClient {
  const socket: Socket<ServerEvents, ClientEvents> = io(origin, {
    ...{ path: '/feed', transports: ['websocket'], forceNew: true, reconnectionDelay: 50, reconnectionDelayMax: 200 },
    extraHeaders: { Cookie: cookie, Origin: origin },
  });
  const snapshots: FeedSnapshot[] = [];
  const deltas: FeedDelta[] = [];
  const refusals: FeedRefusal[] = [];
  const troubles: (string | null)[] = [];
  const errors: string[] = [];
  const verdicts = new Map<string, Verdict>();
  let decided: DecidedMessage | null = null;
  let [gates, rev, seq]: [readonly GateView[], number, number] = [[], -1, 0];
  const heard =
    <T>(take: (message: T) => void) =>
    (message: T): void => {
      take(message);
      signal.fire();
    };
  socket.on('connect', () => socket.emit('join', { project, protocol }));
  socket.on('connect_error', (error) => heard<string>((m) => errors.push(m))(error.message));
  socket.on('disconnect', () => signal.fire());
  socket.on(
    'refused',
    heard((m: FeedRefusal) => refusals.push(m)),
  );
  socket.on(
    'trouble',
    heard((m: string | null) => troubles.push(m)),
  );
  socket.on(
    'gates',
    heard((m: readonly GateView[]) => {
      gates = m;
    }),
  );
  socket.on(
    'decided',
    heard((m: DecidedMessage) => {
      decided = m;
    }),
  );
  socket.on(
    'snapshot',
    heard((s: FeedSnapshot) => {
      snapshots.push(s);
      verdicts.clear();
      for (const v of s.verdicts) verdicts.set(v.key, v);
      [gates, rev, seq] = [s.gates, s.rev, s.seq];
      decided = { plan: s.plan, concessions: s.concessions };
    }),
  );
  socket.on(
    'delta',
    heard((d: FeedDelta) => {
      deltas.push(d);
      for (const v of d.changed) verdicts.set(v.key, v);
      for (const key of d.cleared) verdicts.delete(key);
      [rev, seq] = [d.rev, d.seq];
    }),
  );
  return {
    ...{ socket, snapshots, deltas, refusals, troubles, errors },
    decided: () => decided,
    gates: () => gates,
    verdicts: () => verdicts,
    rev: () => rev,
    seq: () => seq,
    joined: () => signal.until(() => snapshots.length > 0, 'a snapshot of the feed'),
    close: () => void socket.close(),
  };
}
