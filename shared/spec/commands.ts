import type * as Y from 'yjs';
import { fieldAt, parsePath } from './path.ts';
import { SPEC_ROOT } from './reader.ts';
import type { CollectionKey, Tick } from './spec.ts';
import { type StoredValue, storedNumber } from './validate.ts';

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

/** Adds an element of a collection with its first values. Throws on an id or field that cannot be: that is a bug of the caller. */
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

/** Adds a row to a table of an own material, such as `points`. Throws on a table that is not there: that is a bug of the caller. */
export function addMaterialRow(
  doc: Y.Doc,
  at: { readonly material: string; readonly table: string },
  row: NewElement,
  origin: ChangeOrigin = userOrigin,
): void {
  addAt(doc, `materials.${at.material}.${at.table}.${row.id}`, row, origin);
}

/** Sets the limit of a rule for this job in one transaction, whatever stood there before. Take it back with `removeElement` on `limits.<rule>`. */
export function setLimit(
  doc: Y.Doc,
  rule: string,
  values: Readonly<Partial<Record<'least' | 'most' | 'reason', StoredValue>>>,
  origin: ChangeOrigin = userOrigin,
): void {
  addAt(doc, `limits.${rule}`, { id: rule, order: 1, values }, origin);
}

function addAt(doc: Y.Doc, path: string, element: NewElement, origin: ChangeOrigin): void {
  requireElement(path, 'add');
  const keys = Object.keys(element.values);
  const stray = keys.find((key) => fieldAt(`${path}.${key}`) === null);
  if (stray !== undefined) throw new Error(`add: "${path}.${stray}" names no field of the spec`);
  doc.transact(() => {
    const map = entries(doc);
    // What a concurrent edit left below a removed element must not come back to life in the new one.
    removeBelow(map, path);
    map.set(path, element.order);
    for (const key of keys) map.set(`${path}.${key}`, element.values[key]);
  }, origin);
}

function requireElement(path: string, command: string): void {
  const kind = parsePath(path)?.kind;
  if (kind !== 'element' && kind !== 'node') throw new Error(`${command}: "${path}" names no element of the spec`);
}

function removeBelow(map: Y.Map<unknown>, path: string): void {
  for (const key of [...map.keys()]) if (key.startsWith(`${path}.`)) map.delete(key);
}

/** Removes an element, a runner with its nodes, or one node (`runners.r1.nodes.n2`). Throws on any other path: that is a bug of the caller. */
export function removeElement(doc: Y.Doc, path: string, origin: ChangeOrigin = userOrigin): void {
  requireElement(path, 'remove');
  doc.transact(() => {
    const map = entries(doc);
    map.delete(path);
    removeBelow(map, path);
  }, origin);
}

/** Moves one runner node; SI metres. One transaction, so undo takes it back whole; a coordinate that stays keeps the text it was typed as. */
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
      if (storedNumber(map.get(`${prefix}.${axis}`)) !== to[axis]) map.set(`${prefix}.${axis}`, to[axis]);
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
      if (!sameStored(map.get(key), value)) map.set(key, value);
    }
  }, origin);
}

/** Stored values are plain: numbers, texts, and records of these, of which a tick may hold a list of photos. */
function sameStored(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const members = new Map<string, unknown>(Object.entries(b));
  const own = Object.entries(a);
  return own.length === members.size && own.every(([key, value]) => sameStored(value, members.get(key)));
}

const IDS = 36 ** 6;

/** An id not yet taken below `parent`, made from a caller-given random number in [0, 1). Ids of removed elements with leftovers count as taken. */
export function freshId(doc: Y.Doc, parent: string, random: () => number): string {
  const taken = new Set<string | undefined>();
  for (const key of entries(doc).keys()) {
    if (key.startsWith(`${parent}.`)) taken.add(key.slice(parent.length + 1).split('.')[0]);
  }
  // Counting on from a taken one ends even when the numbers given repeat.
  for (let n = Math.floor(random() * IDS); ; n++) {
    const id = (n % IDS).toString(36).padStart(6, '0');
    if (!taken.has(id)) return id;
  }
}
