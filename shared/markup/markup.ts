import type { Vec3 } from '../geometry/vector.ts';

/** Root map of the markup document. Entries: `t.<id>` opens a thread, `t.<id>.c.<comment>` is a comment, `t.<id>.state` closes or reopens it. */
export const MARKUP_ROOT = 'markup';

/** Where a thread is pinned. A runner anchor is kept by its share of the length (0..1) and clock angle, so the pin follows the runner when it moves. */
export type Anchor =
  | {
      readonly kind: 'runner';
      readonly runner: string;
      readonly share: number;
      readonly angle: number;
      readonly at: Vec3;
    }
  | { readonly kind: 'place'; readonly at: Vec3 };

/** Entry that opens a thread. `by` is the writer's own account: the server refuses any other. */
export interface ThreadEntry {
  readonly by: string;
  readonly anchor: Anchor;
  readonly n: number;
}
/** One comment as stored; `by` is the account id the server checked against the connection. */
export interface CommentEntry {
  readonly by: string;
  readonly text: string;
}
/** Whether a thread still wants an answer, and who said so last. */
export interface StateEntry {
  readonly by: string;
  readonly state: 'open' | 'resolved';
}

/** A comment as shown. */
export interface MarkupComment extends CommentEntry {
  readonly id: string;
}
/** A thread as shown: its comments in the order of their ids. */
export interface Thread extends ThreadEntry {
  readonly id: string;
  readonly comments: readonly MarkupComment[];
  readonly state: 'open' | 'resolved';
  readonly resolvedBy: string | null;
}

/** Characters in a comment at most. */
export const COMMENT_LIMIT = 4000;
const KEY = /^t\.([a-z0-9]{1,40})(?:\.(state)|\.c\.([a-z0-9]{1,40}))?$/;

/** A markup key taken apart; null when it is not one. */
export type MarkupKey =
  | { readonly kind: 'thread'; readonly thread: string }
  | { readonly kind: 'state'; readonly thread: string }
  | { readonly kind: 'comment'; readonly thread: string; readonly comment: string };

/** Reads a key of the markup document. */
export function parseMarkupKey(key: string): MarkupKey | null {
  const m = KEY.exec(key);
  if (!m?.[1]) return null;
  if (m[2]) return { kind: 'state', thread: m[1] };
  return m[3] ? { kind: 'comment', thread: m[1], comment: m[3] } : { kind: 'thread', thread: m[1] };
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function readNumber(value: unknown): number | null {
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

function readPoint(value: unknown): Vec3 | null {
  if (!Array.isArray(value) || value.length !== 3) return null;
  const [x = null, y = null, z = null] = value.map(readNumber);
  return x === null || y === null || z === null ? null : [x, y, z];
}

function readAnchor(value: unknown): Anchor | null {
  if (!isObject(value)) return null;
  const at = readPoint(value.at);
  if (!at) return null;
  if (value.kind === 'place') return { kind: 'place', at };
  const { runner } = value;
  const [share, angle] = [readNumber(value.share), readNumber(value.angle)];
  if (value.kind !== 'runner' || typeof runner !== 'string' || share === null || angle === null) return null;
  return share >= 0 && share <= 1 ? { kind: 'runner', runner, share, angle, at } : null;
}

/** Highest number a thread may bear (own): far above any job, so that the next number can always be counted on. */
const NUMBER_LIMIT = 1_000_000;

/** Reads an entry that opens a thread; null when it is not one. */
export function readThreadEntry(value: unknown): ThreadEntry | null {
  if (!isObject(value) || typeof value.by !== 'string') return null;
  const anchor = readAnchor(value.anchor);
  const n = readNumber(value.n);
  const numbered = n !== null && Number.isInteger(n) && n >= 1 && n <= NUMBER_LIMIT;
  return anchor && numbered ? { by: value.by, anchor, n } : null;
}

/** Reads a comment entry; null when it is not one. */
export function readCommentEntry(value: unknown): CommentEntry | null {
  if (!isObject(value) || typeof value.by !== 'string' || typeof value.text !== 'string') return null;
  const ok = value.text.trim() !== '' && value.text.length <= COMMENT_LIMIT;
  return ok ? { by: value.by, text: value.text } : null;
}

/** Reads a state entry; null when it is not one. */
export function readStateEntry(value: unknown): StateEntry | null {
  if (!isObject(value) || typeof value.by !== 'string') return null;
  return value.state === 'open' || value.state === 'resolved' ? { by: value.by, state: value.state } : null;
}

/** Anything with keys and values: a Y.Map or a Map. */
export interface MarkupEntries {
  get(key: string): unknown;
  keys(): Iterable<string>;
}

/** All readable threads, oldest number first. Unreadable entries are left out, never repaired. */
export function readThreads(entries: MarkupEntries): readonly Thread[] {
  const comments = new Map<string, MarkupComment[]>();
  const threads: Thread[] = [];
  for (const key of [...entries.keys()].sort()) {
    const parsed = parseMarkupKey(key);
    if (parsed?.kind !== 'comment') continue;
    const entry = readCommentEntry(entries.get(key));
    if (entry) comments.set(parsed.thread, [...(comments.get(parsed.thread) ?? []), { ...entry, id: parsed.comment }]);
  }
  for (const key of entries.keys()) {
    const parsed = parseMarkupKey(key);
    const entry = parsed?.kind === 'thread' ? readThreadEntry(entries.get(key)) : null;
    if (!parsed || !entry) continue;
    const state = readStateEntry(entries.get(`${key}.state`));
    threads.push({
      ...entry,
      id: parsed.thread,
      comments: comments.get(parsed.thread) ?? [],
      state: state?.state ?? 'open',
      resolvedBy: state?.state === 'resolved' ? state.by : null,
    });
  }
  return threads.sort((a, b) => a.n - b.n || (a.id < b.id ? -1 : 1));
}

/**
 * Why an account may not make this change to the markup document, or null. Nobody writes under another's name, nobody
 * rewrites or removes what another account wrote; anyone may resolve or reopen. A thread is resolved, never removed: others' answers
 * hang on it.
 */
export function refuseMarkup(
  change: { readonly key: string; readonly before: unknown; readonly after: unknown },
  account: string,
): string | null {
  const key = parseMarkupKey(change.key);
  if (!key) return `"${change.key}" is no markup entry`;
  const author = isObject(change.before) && typeof change.before.by === 'string' ? change.before.by : null;
  if (key.kind !== 'state' && author !== null && author !== account) return 'this entry was written by another account';
  if (change.after === undefined) {
    return key.kind === 'thread' && readThreadEntry(change.before) ? 'a thread is resolved, not removed' : null;
  }
  const read = { thread: readThreadEntry, comment: readCommentEntry, state: readStateEntry }[key.kind](change.after);
  if (!read) return `the ${key.kind} entry does not have the expected shape`;
  return read.by === account ? null : 'an entry must carry the name of the account that writes it';
}
