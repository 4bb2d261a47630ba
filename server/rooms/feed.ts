import type { Server as HttpServer, IncomingMessage } from 'node:http';
import { Server, type Socket } from 'socket.io';
import { type ClientEvents, type FeedSnapshot, PROTOCOL, type ServerEvents } from '../../shared/protocol/events.ts';
import type { RoomFeed } from './feedPort.ts';

interface SocketData {
  account: string;
  project: string | null;
}

export interface FeedOptions {
  readonly originAllowed: (origin: string | undefined) => boolean;
  /** Account behind the request's cookie, or null. */
  readonly account: (request: IncomingMessage) => Promise<string | null>;
  /** The project's snapshot for a member, or null when there is nothing for this account. */
  readonly snapshot: (project: string, account: string) => Promise<FeedSnapshot | null>;
}

export interface VerdictFeed extends RoomFeed {
  /** Ends an account's sockets, e.g. when its session ends. */
  expel(account: string): void;
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
  io.use((socket, next) => {
    options.account(socket.request).then(
      (account) => {
        if (account === null) return next(new Error('not-signed-in'));
        socket.data = { account, project: null };
        next();
      },
      (error: unknown) => next(error instanceof Error ? error : new Error(String(error))),
    );
  });
  io.on('connection', (socket) => {
    socket.on('join', (message) => void join(socket, message, options));
    socket.on('resync', () => void send(socket, socket.data.project, options));
  });
  return {
    delta: (project, message) => void io.to(roomName(project)).emit('delta', message),
    gates: (project, message) => void io.to(roomName(project)).emit('gates', message),
    scans: (project, message) => void io.to(roomName(project)).emit('scans', message),
    trouble: (project, message) => void io.to(roomName(project)).emit('trouble', message),
    expel: (account) => {
      for (const socket of io.sockets.sockets.values()) if (socket.data.account === account) socket.disconnect(true);
    },
    close: () => io.close(),
  };
}

async function join(socket: FeedSocket, message: unknown, options: FeedOptions): Promise<void> {
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
  if (socket.data.project !== null) await socket.leave(roomName(socket.data.project));
  socket.data.project = shape.project;
  // In the room first: a delta that comes while the snapshot is made must not be missed. The client drops those it already has.
  await socket.join(roomName(shape.project));
  await send(socket, shape.project, options);
}

async function send(socket: FeedSocket, project: string | null, options: FeedOptions): Promise<void> {
  const snapshot = project === null ? null : await options.snapshot(project, socket.data.account).catch(() => null);
  if (snapshot) {
    socket.emit('snapshot', snapshot);
    return;
  }
  if (project !== null) await socket.leave(roomName(project));
  socket.data.project = null;
  socket.emit('refused', { code: 'not-found', detail: 'there is nothing here for this account' });
}
