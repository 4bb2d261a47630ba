import type * as Y from 'yjs';
import { type Anchor, MARKUP_ROOT, readThreads } from './markup.ts';

/** Opens a thread with its first comment; returns its number, one above the highest. Ids are caller-given, small letters and digits, increasing in time so that comments sort. */
export function openThread(
  doc: Y.Doc,
  thread: { readonly id: string; readonly by: string; readonly anchor: Anchor; readonly text: string },
): number {
  const map = doc.getMap<unknown>(MARKUP_ROOT);
  const n = readThreads(map).reduce((max, t) => Math.max(max, t.n), 0) + 1;
  doc.transact(() => {
    map.set(`t.${thread.id}`, { by: thread.by, anchor: thread.anchor, n });
    map.set(`t.${thread.id}.c.0`, { by: thread.by, text: thread.text });
  });
  return n;
}

/** Answers in a thread. */
export function addComment(
  doc: Y.Doc,
  thread: string,
  comment: { readonly id: string; readonly by: string; readonly text: string },
): void {
  doc.getMap<unknown>(MARKUP_ROOT).set(`t.${thread}.c.${comment.id}`, { by: comment.by, text: comment.text });
}

/** Resolves or reopens a thread. */
export function setThreadState(doc: Y.Doc, thread: string, state: 'open' | 'resolved', by: string): void {
  doc.getMap<unknown>(MARKUP_ROOT).set(`t.${thread}.state`, { by, state });
}
