import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { type WebSocket, WebSocketServer } from 'ws';
import { type DocumentName, isDocumentName } from '../../shared/protocol/sync.ts';
import type { DocumentHub } from './hub.ts';
import type { Identity } from './presence.ts';

/** What a person may do with one document. */
export interface DocumentAccess {
  readonly hub: DocumentHub;
  readonly identity: Identity;
  readonly canWrite: boolean;
  /** Names the session behind it. */
  readonly session: string;
}

export interface UpgradeOptions {
  readonly originAllowed: (origin: string | undefined) => boolean;
  /** null: not signed in, no such project, or not a member; all look the same from outside. */
  readonly access: (
    request: IncomingMessage,
    project: string,
    document: DocumentName,
  ) => Promise<DocumentAccess | null>;
  readonly warn: (event: string, detail: Readonly<Record<string, unknown>>) => void;
  readonly heartbeatMs?: number;
}

const PATH = /^\/sync\/([A-Za-z0-9_-]{1,64})\/([a-z]{1,20})(?:\?.*)?$/;
/** Above what an update may have, so that one too large is refused in words and not by a torn link. */
const MAX_FRAME = 1024 * 1024;
/** How often a peer must show that it is still there, ms. */
const HEARTBEAT_MS = 30_000;

function refuse(socket: Duplex, status: string): void {
  socket.end(`HTTP/1.1 ${status}\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`);
}

/** Handles upgrades to `/sync/<project>/<document>`; returns false for any other path. */
export function createSyncUpgrade(options: UpgradeOptions): {
  handle(request: IncomingMessage, socket: Duplex, head: Buffer): boolean;
  close(): void;
} {
  const server = new WebSocketServer({ noServer: true, maxPayload: MAX_FRAME, perMessageDeflate: false });
  const handle = (request: IncomingMessage, socket: Duplex, head: Buffer): boolean => {
    const [, project, document] = PATH.exec(request.url ?? '') ?? [];
    if (project === undefined || document === undefined) return false;
    // From the upgrade on nobody else listens, and a reset would end the process.
    socket.on('error', () => socket.destroy());
    if (!options.originAllowed(request.headers.origin) || !isDocumentName(document)) {
      refuse(socket, '403 Forbidden');
      return true;
    }
    options.access(request, project, document).then(
      (access) => {
        if (!access) return refuse(socket, '403 Forbidden');
        server.handleUpgrade(request, socket, head, (ws) =>
          access.hub.join(ws, access.identity, access.canWrite, access.session),
        );
      },
      (error: unknown) => {
        options.warn('sync-open-failed', { project, error: String(error) });
        refuse(socket, '503 Service Unavailable');
      },
    );
    return true;
  };
  const beating = setInterval(() => beat(server.clients), options.heartbeatMs ?? HEARTBEAT_MS);
  beating.unref();
  const close = (): void => {
    clearInterval(beating);
    server.close();
  };
  return { handle, close };
}

const silent = new WeakSet<WebSocket>();

/** A peer that fell off the network without a word would be shown as present for ever. */
function beat(sockets: Iterable<WebSocket>): void {
  for (const socket of sockets) {
    if (silent.has(socket)) {
      socket.terminate();
      continue;
    }
    silent.add(socket);
    socket.once('pong', () => silent.delete(socket));
    socket.ping();
  }
}
