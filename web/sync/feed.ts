import { io, type Socket } from 'socket.io-client';
import type { Concession, ConcessionView } from '../../shared/gates/concession.ts';
import { defaultPlan, type Plan } from '../../shared/gates/plan.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import { type ClientEvents, type DecidedMessage, PROTOCOL, type ServerEvents } from '../../shared/protocol/events.ts';
import type { PartView, ScanView } from '../../shared/protocol/http.ts';
import type { PlanView } from '../../shared/protocol/plan.ts';
import type { RevisionView } from '../../shared/protocol/revisions.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import { createStore, type Store } from '../state/store.ts';

/** The server's verdicts as last heard. */
export interface FeedState {
  readonly connected: boolean;
  readonly rev: number;
  /** Journal number up to which the server has checked. */
  readonly seq: number;
  readonly verdicts: ReadonlyMap<string, Verdict>;
  readonly gates: readonly GateView[];
  /** The plan in force, with who put it there; null until the server has said. */
  readonly planned: PlanView | null;
  readonly plan: Plan;
  readonly conceded: readonly ConcessionView[];
  /** The same without where they stand. */
  readonly concessions: readonly Concession[];
  readonly trouble: string | null;
  readonly refused: string | null;
}

export interface Feed {
  readonly state: Store<FeedState>;
  readonly scans: Store<readonly ScanView[] | null>;
  readonly parts: Store<readonly PartView[] | null>;
  readonly revisions: Store<readonly RevisionView[] | null>;
  /** Counts how often the server said that one's own notices are others now; every connection counts, too. */
  readonly notices: Store<number>;
  close(): void;
}

const EMPTY: FeedState = {
  connected: false,
  rev: -1,
  seq: 0,
  verdicts: new Map(),
  gates: [],
  planned: null,
  plan: defaultPlan,
  conceded: [],
  concessions: [],
  trouble: null,
  refused: null,
};

export function openFeed(project: string): Feed {
  const socket: Socket<ServerEvents, ClientEvents> = io({
    path: '/feed',
    transports: ['websocket'],
    reconnectionDelayMax: 2000,
  });
  const state = createStore<FeedState>(EMPTY);
  const scans = createStore<readonly ScanView[] | null>(null);
  const parts = createStore<readonly PartView[] | null>(null);
  const revisions = createStore<readonly RevisionView[] | null>(null);
  const notices = createStore(0);
  const heard = (): void => notices.set(notices.get() + 1);
  const patch = (change: Partial<FeedState>): void => state.set({ ...state.get(), ...change });
  socket.on('connect', () => {
    patch({ connected: true, refused: null });
    socket.emit('join', { project, protocol: PROTOCOL });
  });
  socket.on('disconnect', () => patch({ connected: false }));
  socket.on('connect_error', (error) =>
    patch({
      connected: false,
      ...(error.message === 'not-signed-in' && {
        refused: 'Signed out. Sign in again; your edits stay on this device.',
      }),
    }),
  );
  socket.on('refused', (message) => patch({ refused: message.detail }));
  socket.on('trouble', (trouble) => patch({ trouble }));
  socket.on('scans', (list) => scans.set(list));
  socket.on('parts', (list) => parts.set(list));
  socket.on('revisions', (list) => revisions.set(list));
  socket.on('notices', heard);
  socket.on('gates', (gates) => patch({ gates }));
  socket.on('decided', (message) => patch(decidedIn(message)));
  socket.on('snapshot', (s) => {
    heard();
    patch({
      rev: s.rev,
      seq: s.seq,
      gates: s.gates,
      ...decidedIn(s),
      verdicts: new Map(s.verdicts.map((v) => [v.key, v])),
      refused: null,
    });
  });
  socket.on('delta', (delta) => {
    const { rev, verdicts } = state.get();
    if (delta.rev <= rev) return;
    if (delta.rev !== rev + 1) {
      socket.emit('resync');
      return;
    }
    const next = new Map(verdicts);
    for (const v of delta.changed) next.set(v.key, v);
    for (const key of delta.cleared) next.delete(key);
    patch({ rev: delta.rev, seq: delta.seq, verdicts: next });
  });
  return { state, scans, parts, revisions, notices, close: () => void socket.close() };
}

function decidedIn({
  plan,
  concessions,
}: DecidedMessage): Pick<FeedState, 'planned' | 'plan' | 'conceded' | 'concessions'> {
  return {
    planned: plan,
    plan: plan.plan,
    conceded: concessions,
    concessions: concessions.map(({ concession }) => concession),
  };
}
