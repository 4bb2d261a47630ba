import type * as Y from 'yjs';
import { type ChangeOrigin, userOrigin } from './commands.ts';
import { canonical } from './digest.ts';
import { parsePath } from './path.ts';
import { type Entries, SPEC_ROOT } from './reader.ts';

/** One entry to write; undefined: to take away. */
interface Write {
  readonly path: string;
  readonly value: unknown;
  /** Of what it writes and what it overwrites, which an undo writes again. */
  readonly characters: number;
}

/** What has to be written so that a document holds an earlier state again. */
export interface RestorePlan {
  /** Each is one step: one frame to the server, one undo. Whole rows stand together. */
  readonly steps: readonly (readonly Write[])[];
  readonly writes: number;
  /** Entries of the earlier state that name nothing in a spec any more; they stay away. */
  readonly strange: number;
}

/** Most characters of JSON one step may write (own: the server takes frames of 256 KiB, and an undo of a step writes as much again). */
const STEP_CHARACTERS = 80_000;
/** Most entries in one step (own: a quarter of what the server takes). */
const STEP_ENTRIES = 5_000;
/** What an entry takes on the wire beside its path and value, characters (own: ids of itself and of its neighbours). */
const ENTRY_OVERHEAD = 40;

const isTick = (path: string): boolean => path.startsWith('ticks.');

/**
 * Plans how to get from the entries there are to wanted ones. Ticks on neither side count: a tick is a person's word about what they saw,
 * and no earlier state can give it or take it back. Pure.
 */
export function planRestore(now: Entries, wanted: ReadonlyMap<string, unknown>): RestorePlan {
  const writes: Write[] = [];
  let strange = 0;
  for (const path of now.keys())
    if (!isTick(path) && !wanted.has(path) && now.get(path) !== undefined)
      writes.push(write(path, now.get(path), undefined));
  for (const [path, value] of wanted) {
    if (isTick(path)) continue;
    if (parsePath(path) === null) strange += 1;
    else if (canonical(now.get(path)) !== canonical(value)) writes.push(write(path, now.get(path), value));
  }
  writes.sort((a, b) => (a.path < b.path ? -1 : 1));
  return { steps: inSteps(writes), writes: writes.length, strange };
}

function write(path: string, before: unknown, value: unknown): Write {
  const longest = Math.max(...[before, value].map((one) => JSON.stringify(one)?.length ?? 0));
  return { path, value, characters: path.length + longest + ENTRY_OVERHEAD };
}

/** A row and what lies in it, `runners.r1`; a group's fields go with their group. */
const rowOf = (path: string): string => path.split('.', 2).join('.');

function inSteps(writes: readonly Write[]): Write[][] {
  const steps: Write[][] = [];
  let characters = 0;
  for (const write of writes) {
    const size = write.characters;
    const last = steps.at(-1);
    const begun = last?.at(-1);
    const full = !last || characters + size > STEP_CHARACTERS || last.length >= STEP_ENTRIES;
    // A row is not torn apart while it has room at all: twice the measure still fits a frame.
    const within = begun && rowOf(begun.path) === rowOf(write.path) && characters + size <= 2 * STEP_CHARACTERS;
    if (full && !(within && last && last.length < 2 * STEP_ENTRIES)) {
      steps.push([write]);
      characters = size;
    } else {
      last?.push(write);
      characters += size;
    }
  }
  return steps;
}

/** Carries a plan out as this person's own edits, one transaction a step; `next` is called before each, so that undo takes them one by one. */
export function restore(doc: Y.Doc, plan: RestorePlan, next: () => void, origin: ChangeOrigin = userOrigin): void {
  const map = doc.getMap<unknown>(SPEC_ROOT);
  for (const step of plan.steps) {
    next();
    doc.transact(() => {
      for (const { path, value } of step) {
        if (value === undefined) map.delete(path);
        else map.set(path, value);
      }
    }, origin);
  }
}
