import type * as Y from 'yjs';
import { parsePath } from './path.ts';
import { SPEC_ROOT } from './reader.ts';
import type { CollectionKey, Tick } from './spec.ts';
import type { StoredValue } from './validate.ts';

/** Why a spec document changed; undo tracks `user`, storage skips `load`. */
export type ChangeOrigin =
  | { readonly kind: 'user' }
  | { readonly kind: 'import' }
  | { readonly kind: 'load' }
  | { readonly kind: 'remote' };

/** The one origin object of this session's own edits, so that undo can track it by identity. */
export const userOrigin: ChangeOrigin = { kind: 'user' };

/** Writes to a spec document happen only through these. Values are stored as given: check them with `checkTyped` first. */
function entries(doc: Y.Doc): Y.Map<unknown> {
  return doc.getMap<unknown>(SPEC_ROOT);
}

/** Sets one field, or clears it with null. Throws on a path that names no field: that is a bug of the caller. */
export function setField(doc: Y.Doc, path: string, value: StoredValue | null, origin: ChangeOrigin = userOrigin): void {
  const parsed = parsePath(path);
  if (!parsed || !('field' in parsed)) throw new Error(`setField: "${path}" names no field of the spec`);
  doc.transact(() => {
    if (value === null) entries(doc).delete(path);
    else entries(doc).set(path, value);
  }, origin);
}

/** A new element of a collection. */
export interface NewElement {
  readonly id: string;
  readonly order: number;
  readonly values: Readonly<Record<string, StoredValue>>;
}

/** Adds an element of a collection with its first values. */
export function addElement(
  doc: Y.Doc,
  branch: CollectionKey,
  element: NewElement,
  origin: ChangeOrigin = userOrigin,
): void {
  addAt(doc, `${branch}.${element.id}`, element, origin);
}

/** Adds a node to a runner. */
export function addNode(doc: Y.Doc, runner: string, node: NewElement, origin: ChangeOrigin = userOrigin): void {
  addAt(doc, `runners.${runner}.nodes.${node.id}`, node, origin);
}

function addAt(doc: Y.Doc, path: string, element: NewElement, origin: ChangeOrigin): void {
  doc.transact(() => {
    const map = entries(doc);
    map.set(path, element.order);
    for (const key of Object.keys(element.values)) map.set(`${path}.${key}`, element.values[key]);
  }, origin);
}

/** Removes an element, a runner with its nodes, or one node (`runners.r1.nodes.n2`). */
export function removeElement(doc: Y.Doc, path: string, origin: ChangeOrigin = userOrigin): void {
  doc.transact(() => {
    const map = entries(doc);
    for (const key of [...map.keys()]) if (key === path || key.startsWith(`${path}.`)) map.delete(key);
  }, origin);
}

/** Moves one runner node; SI metres. One transaction, so undo takes it back whole. */
export function moveNode(
  doc: Y.Doc,
  at: { readonly runner: string; readonly node: string },
  to: { readonly x: number; readonly y: number; readonly z: number },
  origin: ChangeOrigin = userOrigin,
): void {
  const prefix = `runners.${at.runner}.nodes.${at.node}`;
  doc.transact(() => {
    const map = entries(doc);
    for (const axis of ['x', 'y', 'z'] as const) {
      if (map.get(`${prefix}.${axis}`) !== to[axis]) map.set(`${prefix}.${axis}`, to[axis]);
    }
  }, origin);
}

/** Ticks or unticks a checklist item. `by` must be the writer's own account: the server refuses any other. */
export function setTick(doc: Y.Doc, gate: string, item: string, tick: Tick, origin: ChangeOrigin = userOrigin): void {
  doc.transact(() => entries(doc).set(`ticks.${gate}.${item}`, tick), origin);
}

/** Replaces the whole content in one transaction: import of a file, restore of a revision. */
export function replaceAll(doc: Y.Doc, content: ReadonlyMap<string, unknown>, origin: ChangeOrigin = userOrigin): void {
  doc.transact(() => {
    const map = entries(doc);
    for (const key of [...map.keys()]) if (!content.has(key)) map.delete(key);
    for (const [key, value] of content) {
      if (JSON.stringify(map.get(key)) !== JSON.stringify(value)) map.set(key, value);
    }
  }, origin);
}

/** An id not yet taken below `parent`, made from a caller-given random number in [0, 1). */
export function freshId(doc: Y.Doc, parent: string, random: () => number): string {
  const map = entries(doc);
  for (;;) {
    const id = Math.floor(random() * 36 ** 6)
      .toString(36)
      .padStart(6, '0');
    if (!map.has(`${parent}.${id}`)) return id;
  }
}
