import { addComment, openThread, setThreadState } from '../../shared/markup/commands.ts';
import type { Anchor } from '../../shared/markup/markup.ts';
import { parsePath } from '../../shared/spec/path.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';
import type { StoredValue } from '../../shared/spec/validate.ts';
import type { Room } from './room.ts';

/** An edit of the spec that comes without a socket. */
export interface ScriptedEdit {
  readonly account: string;
  readonly set: ReadonlyMap<string, StoredValue>;
  /** Fields, and rows with all below them; before `set`. */
  readonly remove: readonly string[];
  /** Only while the project stands at this journal number. */
  readonly ifSeq?: number;
}

/** A remark that comes without a socket. */
export type ScriptedRemark = { readonly account: string } & (
  | { readonly kind: 'open'; readonly id: string; readonly anchor: Anchor; readonly text: string }
  | { readonly kind: 'answer'; readonly thread: string; readonly id: string; readonly text: string }
  | { readonly kind: 'state'; readonly thread: string; readonly state: 'open' | 'resolved' }
);

/** How it ended; `seq` is the journal number up to which all is kept. */
export type Scripted =
  | { readonly ok: true; readonly seq: number }
  | { readonly ok: false; readonly code: 'moved-on' | 'not-found' | 'refused' | 'not-kept'; readonly detail: string };

/** Makes the edit as one step. */
export async function editScripted(room: Room, { account, set, remove, ifSeq }: ScriptedEdit): Promise<Scripted> {
  if (ifSeq !== undefined && (room.document('spec').busy() || room.seqNow() !== ifSeq))
    return { ok: false, code: 'moved-on', detail: `the project stands at journal number ${room.seqNow()}` };
  const outcome = await room.write('spec', account, (doc) => {
    const map = doc.getMap<unknown>(SPEC_ROOT);
    for (const path of remove) {
      map.delete(path);
      if (isRow(path)) for (const key of [...map.keys()]) if (key.startsWith(`${path}.`)) map.delete(key);
    }
    for (const [path, value] of set) map.set(path, value);
  });
  return scripted(outcome);
}

function isRow(path: string): boolean {
  const kind = parsePath(path)?.kind;
  return kind === 'element' || kind === 'node';
}

/** Writes the remark. */
export async function remarkScripted(room: Room, remark: ScriptedRemark): Promise<Scripted> {
  const { account } = remark;
  const there = remark.kind === 'open' || room.threads().some(({ id }) => id === remark.thread);
  if (!there) return { ok: false, code: 'not-found', detail: 'this project has no such markup' };
  const outcome = await room.write('markup', account, (doc) => {
    if (remark.kind === 'open') openThread(doc, { ...remark, by: account });
    if (remark.kind === 'answer') addComment(doc, remark.thread, { id: remark.id, by: account, text: remark.text });
    if (remark.kind === 'state') setThreadState(doc, remark.thread, remark.state, account);
  });
  return scripted(outcome);
}

function scripted(outcome: Awaited<ReturnType<Room['write']>>): Scripted {
  if (typeof outcome === 'number') return { ok: true, seq: outcome };
  return { ok: false, code: outcome.code === 'not-kept' ? 'not-kept' : 'refused', detail: outcome.reason };
}
