import type * as Y from 'yjs';
import { si } from '../units/si.ts';
import type { Field } from './field.ts';
import { collections, groups } from './fields.ts';
import { isCollectionKey, isGroupKey, parsePath, tablesOf } from './path.ts';
import type { CollectionKey, GroupKey, Spec, Tick } from './spec.ts';
import { checkStored, checkTick } from './validate.ts';

/** Name of the spec's root map inside its document. */
export const SPEC_ROOT = 'spec';

type Row = Readonly<Record<string, unknown>>;

/** Turns a spec document into immutable specs; branches that did not change keep their identity. */
export interface SpecReader {
  /** The spec as of the last transaction. */
  current(): Spec;
  /** Called after each transaction that changed something, with the changed paths. */
  onChange(listener: (spec: Spec, changed: ReadonlySet<string>) => void): () => void;
  destroy(): void;
}

/** Specs of an entry store that says itself what changed in it, and that may be replaced by another of nearly the same content. */
export interface SpecView {
  current(): Spec;
  /** Reads again: the entries at `changed`, and where `entries` is another store than last time all that differs. Rows that say the same keep their identity. */
  read(entries: Entries, changed: Iterable<string>): Spec;
}

/** An entry store the reader can read: a Y.Map, or a plain Map for files and tests. */
export interface Entries {
  get(path: string): unknown;
  keys(): Iterable<string>;
}

function sameValue(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  return Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((x, i) => Object.is(x, b[i]));
}

/** Keeps the old row when nothing in it changed, and old members (lists, nodes) when they did not. */
function reuse<T extends Row>(before: T | undefined, now: T): T {
  if (!before) return now;
  const keys = Object.keys(now);
  return keys.length === Object.keys(before).length && keys.every((k) => sameValue(before[k], now[k])) ? before : now;
}

function readField(field: Field, value: unknown): unknown {
  if (value === undefined) return undefined;
  const checked = checkStored(field, value);
  // A limit that is no number must not look like one that was never set.
  if (!checked.ok) return field.kind === 'number' ? Number.NaN : undefined;
  return field.kind === 'quantity' && typeof checked.value === 'number'
    ? si(field.quantity, checked.value)
    : checked.value;
}

function readRows(entries: Entries, prefix: string, rows: Readonly<Record<string, Field>>): Record<string, unknown> {
  const out: Record<string, unknown> = {};
  for (const key of Object.keys(rows)) {
    const field = rows[key];
    if (field) out[key] = readField(field, entries.get(`${prefix}.${key}`));
  }
  return out;
}

/** Ids below each parent path, kept so that one edit need not scan the document. */
class Index {
  readonly children = new Map<string, Set<string>>();

  touch(path: string, present: boolean): void {
    const parsed = parsePath(path);
    if (parsed?.kind === 'element') this.mark(parsed.branch, parsed.id, present);
    if (parsed?.kind === 'node') this.mark(`${parsed.branch}.${parsed.id}.${parsed.table}`, parsed.node, present);
    if (parsed?.kind === 'tick') this.mark('ticks', `${parsed.gate}.${parsed.item}`, present);
  }

  private mark(parent: string, id: string, present: boolean): void {
    const set = this.children.get(parent) ?? new Set();
    if (present) set.add(id);
    else set.delete(id);
    this.children.set(parent, set);
  }

  has(element: string): boolean {
    const [parent = '', id = ''] = element.split('.');
    return this.children.get(parent)?.has(id) ?? false;
  }

  ids(parent: string): string[] {
    return [...(this.children.get(parent) ?? [])];
  }
}

/** The order an element's existence mark gives it; a mark that is no finite number counts as 0. */
export function orderAt(entries: Entries, path: string): number {
  const value = entries.get(path);
  return typeof value === 'number' && Number.isFinite(value) && value !== 0 ? value : 0;
}

/** Elements sort by their order, equal ones by id, so that every peer shows the same. */
export const byOrder = (a: { readonly order: number; readonly id: string }, b: typeof a): number =>
  a.order - b.order || (a.id < b.id ? -1 : 1);

class Builder {
  private readonly groups = new Map<string, Row>();
  private readonly elements = new Map<string, Row & { id: string; order: number }>();
  private entries: Entries;
  private readonly index: Index;
  private spec: Spec;

  constructor(entries: Entries, index: Index) {
    this.entries = entries;
    this.index = index;
    for (const key of entries.keys()) index.touch(key, entries.get(key) !== undefined);
    this.spec = this.assemble(new Set([...Object.keys(groups), ...Object.keys(collections), 'ticks']), null);
  }

  current(): Spec {
    return this.spec;
  }

  read(entries: Entries, changed: Iterable<string>): Spec {
    const paths = new Set(changed);
    if (entries !== this.entries) for (const path of differences(this.entries, entries)) paths.add(path);
    this.entries = entries;
    return paths.size > 0 ? this.update(paths) : this.spec;
  }

  update(changed: ReadonlySet<string>): Spec {
    const branches = new Set<string>();
    const elements = new Set<string>();
    for (const path of changed) {
      this.index.touch(path, this.entries.get(path) !== undefined);
      const [branch, id] = path.split('.');
      if (branch === undefined || id === undefined) continue;
      branches.add(branch);
      if (isCollectionKey(branch)) elements.add(`${branch}.${id}`);
    }
    this.spec = this.assemble(branches, elements);
    return this.spec;
  }

  private assemble(branches: ReadonlySet<string>, elements: ReadonlySet<string> | null): Spec {
    const next: Record<string, unknown> = { ...this.spec };
    for (const branch of branches) {
      if (isGroupKey(branch)) next[branch] = this.group(branch);
      else if (isCollectionKey(branch)) next[branch] = this.list(branch, elements);
      else if (branch === 'ticks') next.ticks = this.ticks();
    }
    next.duplicates = reuseList(this.spec?.duplicates, duplicateNames(next));
    // Every branch was filled from its own rows above; this is the one place where rows become the typed spec.
    const typed: unknown = next;
    assertSpec(typed);
    return Object.freeze(typed);
  }

  private group(branch: GroupKey): Row {
    const row = reuse(this.groups.get(branch), Object.freeze(readRows(this.entries, branch, groups[branch])));
    this.groups.set(branch, row);
    return row;
  }

  private list(branch: CollectionKey, elements: ReadonlySet<string> | null): readonly Row[] {
    const rows = this.index
      .ids(branch)
      .map((id) => {
        const kept = this.elements.get(`${branch}.${id}`);
        return kept && elements && !elements.has(`${branch}.${id}`) ? kept : this.element(branch, id);
      })
      .sort(byOrder);
    for (const path of elements ?? []) if (!this.index.has(path)) this.elements.delete(path);
    return reuseList(this.spec?.[branch], rows);
  }

  private element(branch: CollectionKey, id: string): Row & { id: string; order: number } {
    const path = `${branch}.${id}`;
    const before = this.elements.get(path);
    const fields = readRows(this.entries, path, collections[branch]);
    const rows: Record<string, readonly Row[]> = {};
    for (const key of Object.keys(tablesOf(branch))) rows[key] = this.nodes(path, key, before?.[key]);
    const row = reuse(before, Object.freeze({ ...fields, ...rows, id, order: orderAt(this.entries, path) }));
    this.elements.set(path, row);
    return row;
  }

  private nodes(element: string, table: string, before: unknown): readonly Row[] {
    const old = Array.isArray(before) ? before : [];
    const prefix = `${element}.${table}`;
    const fields = tableFields(element, table);
    const rows = this.index
      .ids(prefix)
      .map((id) => {
        const row = {
          ...readRows(this.entries, `${prefix}.${id}`, fields),
          id,
          order: orderAt(this.entries, `${prefix}.${id}`),
        };
        return reuse(
          old.find((n) => n.id === id),
          Object.freeze(row),
        );
      })
      .sort(byOrder);
    return reuseList(old, rows);
  }

  private ticks(): Readonly<Record<string, Tick>> {
    const before = this.spec?.ticks;
    const out: Record<string, Tick> = {};
    for (const key of this.index.ids('ticks').sort()) {
      const tick = checkTick(this.entries.get(`ticks.${key}`));
      if (tick) out[key] = reuseTick(before?.[key], tick);
    }
    const keys = Object.keys(out);
    const same = before && keys.length === Object.keys(before).length && keys.every((key) => before[key] === out[key]);
    return same ? before : Object.freeze(out);
  }
}

function tableFields(element: string, table: string): Readonly<Record<string, Field>> {
  const [branch = ''] = element.split('.');
  return (isCollectionKey(branch) && tablesOf(branch)[table]) || {};
}

function reuseTick(before: Tick | undefined, now: Tick): Tick {
  const photos = before?.photos?.join() === now.photos?.join();
  const same = before && photos && before.done === now.done && before.note === now.note && before.by === now.by;
  return same ? before : Object.freeze(now);
}

function reuseList<T>(before: readonly T[] | undefined, now: readonly T[]): readonly T[] {
  return before && before.length === now.length && now.every((x, i) => x === before[i])
    ? before
    : Object.freeze([...now]);
}

function duplicateNames(spec: Row): string[] {
  const out: string[] = [];
  for (const branch of Object.keys(collections)) {
    const rows = spec[branch];
    if (!Array.isArray(rows)) continue;
    const seen = new Set<string>();
    for (const row of rows) {
      if (typeof row.name !== 'string') continue;
      const name = row.name.trim().toLowerCase();
      if (seen.has(name)) out.push(`${branch}: ${row.name}`);
      seen.add(name);
    }
  }
  return out;
}

function assertSpec(value: unknown): asserts value is Spec {
  const ok = typeof value === 'object' && value !== null && 'engine' in value && 'runners' in value && 'ticks' in value;
  if (!ok) throw new Error('spec reader: a branch was not built');
}

function* differences(before: Entries, now: Entries): Iterable<string> {
  for (const path of before.keys()) if (!sameValue(before.get(path), now.get(path))) yield path;
  for (const path of now.keys()) if (before.get(path) === undefined) yield path;
}

/** A view that stands on `entries` as they are now. */
export function createSpecView(entries: Entries): SpecView {
  return new Builder(entries, new Index());
}

/** Reads entries once: for files and tests. */
export function readSpec(entries: Entries): Spec {
  return new Builder(entries, new Index()).current();
}

/** Follows a spec document. Destroy it before the document. */
export function createSpecReader(doc: Y.Doc): SpecReader {
  const map = doc.getMap<unknown>(SPEC_ROOT);
  const builder = new Builder(map, new Index());
  const listeners = new Set<(spec: Spec, changed: ReadonlySet<string>) => void>();
  const observer = (event: Y.YMapEvent<unknown>): void => {
    const changed = new Set<string>();
    for (const key of event.keysChanged) if (typeof key === 'string') changed.add(key);
    const spec = builder.update(changed);
    for (const listener of listeners) listener(spec, changed);
  };
  map.observe(observer);
  return {
    current: () => builder.current(),
    onChange(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    destroy() {
      map.unobserve(observer);
      listeners.clear();
    },
  };
}
