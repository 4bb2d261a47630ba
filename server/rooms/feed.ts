import type { Server as HttpServer, IncomingMessage } from 'node:http';
import { Server, type Socket } from 'socket.io';
import { type ClientEvents, type FeedSnapshot, PROTOCOL, type ServerEvents } from '../../shared/protocol/events.ts';
import type { RoomFeed } from './feedPort.ts';

interface SocketData {
  account: string;
  session: string;
  project: string | null;
  /** Counts joins, so that of two the later one holds however long each takes. */
  joins: number;
  /** A snapshot is being made: one more request adds nothing. */
  sending: boolean;
}

export interface FeedOptions {
  readonly originAllowed: (origin: string | undefined) => boolean;
  /** Account and session behind the request's cookie, or null. */
  readonly person: (request: IncomingMessage) => Promise<{ readonly account: string; readonly session: string } | null>;
  /** The project's snapshot for a member, or null when there is nothing for this account. */
  readonly snapshot: (project: string, account: string) => Promise<FeedSnapshot | null>;
}

export interface VerdictFeed extends RoomFeed {
  /** Ends the sockets an account has on a project it was taken out of. */
  expel(project: string, account: string): void;
  /** Tells an account that its notices in a project are others now; where it has that project open. */
  notices(project: string, account: string): void;
  /** Ends the sockets of a session that was signed out or ran out. */
  endSession(session: string): void;
  close(): Promise<void>;
}

type Feed = Server<ClientEvents, ServerEvents, Record<string, never>, SocketData>;
type FeedSocket = Socket<ClientEvents, ServerEvents, Record<string, never>, SocketData>;

const roomName = (project: string): string => `project:${project}`;

/** The verdict feed: socket.io on the same port. Origin is checked at the handshake, membership at every join and after every reconnect. */
export function createFeed(http: HttpServer, options: FeedOptions): VerdictFeed {
  const io: Feed = new Server(http, {
    path: '/feed',
    serveClient: false,
    destroyUpgrade: false,
    perMessageDeflate: false,
    maxHttpBufferSize: 16 * 1024,
    // `cors` does not guard the WebSocket handshake; this does.
    allowRequest: (request, decide) => decide(null, options.originAllowed(request.headers.origin)),
  });
  const troubles = new Map<string, string>();
  const parts: Parts = { options, troubles };
  io.use((socket, next) => {
    options.person(socket.request).then(
      (person) => {
        if (person === null) return next(new Error('not-signed-in'));
        socket.data = { ...person, project: null, joins: 0, sending: false };
        next();
      },
      (error: unknown) => next(error instanceof Error ? error : new Error(String(error))),
    );
  });
  io.on('connection', (socket) => {
    socket.on('join', (message) => void join(socket, message, parts));
    socket.on('resync', () => void resync(socket, parts));
  });
  return {
    delta: (project, message) => void io.to(roomName(project)).emit('delta', message),
    gates: (project, message) => void io.to(roomName(project)).emit('gates', message),
    decided: (project, message) => void io.to(roomName(project)).emit('decided', message),
    scans: (project, message) => void io.to(roomName(project)).emit('scans', message),
    revisions: (project, message) => void io.to(roomName(project)).emit('revisions', message),
    parts: (project, message) => void io.to(roomName(project)).emit('parts', message),
    trouble: (project, message) => {
      if (message === null) troubles.delete(project);
      else troubles.set(project, message);
      io.to(roomName(project)).emit('trouble', message);
    },
    expel: (project, account) => {
      for (const socket of of(io, project, account)) void expel(socket);
    },
    notices: (project, account) => {
      for (const socket of of(io, project, account)) socket.emit('notices');
    },
    endSession: (session) => {
      for (const socket of io.sockets.sockets.values()) if (socket.data.session === session) socket.disconnect(true);
    },
    close: () => io.close(),
  };
}

function of(io: Feed, project: string, account: string): readonly FeedSocket[] {
  return [...io.sockets.sockets.values()].filter(({ data }) => data.project === project && data.account === account);
}

async function expel(socket: FeedSocket): Promise<void> {
  await leave(socket);
  socket.emit('refused', { code: 'not-found', detail: 'there is nothing here for this account any more' });
}

interface Parts {
  readonly options: FeedOptions;
  /** Why a project cannot be written at the moment. */
  readonly troubles: ReadonlyMap<string, string>;
}

async function join(socket: FeedSocket, message: unknown, parts: Parts): Promise<void> {
  const shape =
    typeof message === 'object' && message !== null && 'project' in message && 'protocol' in message ? message : null;
  if (!shape || typeof shape.project !== 'string') return;
  if (shape.protocol !== PROTOCOL) {
    socket.emit('refused', {
      code: 'protocol',
      detail: `expected protocol ${PROTOCOL}, got ${String(shape.protocol)}; reload the page`,
    });
    return;
  }
  await leave(socket);
  await send(socket, shape.project, parts);
}

async function resync(socket: FeedSocket, parts: Parts): Promise<void> {
  const { project, sending } = socket.data;
  if (project !== null && !sending) await send(socket, project, parts);
}

async function leave(socket: FeedSocket): Promise<void> {
  const { project } = socket.data;
  socket.data.joins += 1;
  socket.data.project = null;
  if (project !== null) await socket.leave(roomName(project));
}

async function send(socket: FeedSocket, project: string, { options, troubles }: Parts): Promise<void> {
  const { joins } = socket.data;
  socket.data.sending = true;
  const snapshot = await options.snapshot(project, socket.data.account).catch(() => null);
  socket.data.sending = false;
  if (joins !== socket.data.joins || !socket.connected) return;
  if (!snapshot) {
    await leave(socket);
    socket.emit('refused', { code: 'not-found', detail: 'there is nothing here for this account' });
    return;
  }
  // Into the room only as a member, and in the same turn as the snapshot was made: no delta comes between.
  socket.data.project = project;
  void socket.join(roomName(project));
  socket.emit('snapshot', snapshot);
  const trouble = troubles.get(project);
  if (trouble !== undefined) socket.emit('trouble', trouble);
}
