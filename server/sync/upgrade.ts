import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { WebSocketServer } from 'ws';
import { type DocumentName, isDocumentName } from '../../shared/protocol/sync.ts';
import type { DocumentHub } from './hub.ts';
import type { Identity } from './presence.ts';

/** What a person may do with one document. */
export interface DocumentAccess {
  readonly hub: DocumentHub;
  readonly identity: Identity;
  readonly canWrite: boolean;
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
}

const PATH = /^\/sync\/([A-Za-z0-9_-]{1,64})\/([a-z]{1,20})(?:\?.*)?$/;
const MAX_FRAME = 300 * 1024;

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
    if (!options.originAllowed(request.headers.origin) || !isDocumentName(document)) {
      refuse(socket, '403 Forbidden');
      return true;
    }
    socket.on('error', () => socket.destroy());
    options.access(request, project, document).then(
      (access) => {
        if (!access) return refuse(socket, '403 Forbidden');
        server.handleUpgrade(request, socket, head, (ws) => access.hub.join(ws, access.identity, access.canWrite));
      },
      (error: unknown) => {
        options.warn('sync-open-failed', { project, error: String(error) });
        refuse(socket, '503 Service Unavailable');
      },
    );
    return true;
  };
  return { handle, close: () => server.close() };
}
