/** The document socket speaks the y-protocols messages 0 (sync) and 1 (awareness), and these of our own. */

/** Server to client: the first `count` changes this socket sent are on disk; then the journal number. Two varuints. */
export const MESSAGE_KEPT = 80;
/** Server to client: a change was not taken. One string of JSON: {@link NotTaken}. The socket closes after it. */
export const MESSAGE_NOT_TAKEN = 81;

/** Why the server did not take an update: a code of the error table and a sentence. */
export interface NotTaken {
  readonly code: string;
  readonly reason: string;
}

/** The two documents of a project: the spec with its checklists, and the markups. */
export const documents = ['spec', 'markup'] as const;
/** Name of one of a project's documents. */
export type DocumentName = (typeof documents)[number];

/** Type guard for a document name from outside. */
export function isDocumentName(name: string): name is DocumentName {
  return documents.some((d) => d === name);
}

/** Close code when the client should connect again and send what it has. 45xx, because y-websocket takes 44xx as final. */
export const CLOSE_RESYNC = 4509;
/** Close code when the client sent too much at once; it may come back. */
export const CLOSE_TOO_MANY = 4529;
/** Close code when the client may not do what it tried. */
export const CLOSE_FORBIDDEN = 4403;

/** What one person shows the others while present. Identity is set by the server. */
export interface Presence {
  readonly account: string;
  readonly name: string;
  readonly roles: readonly string[];
  /** Spec path being edited, or null. */
  readonly field: string | null;
  /** The file being sent and how far it is, in words; absent while none is. */
  readonly brings?: string;
}

/** Longest words of {@link Presence.brings}, characters. */
export const bringsLimit = 160;
