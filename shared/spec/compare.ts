import type { FactChange, FactValue } from './covered.ts';
import { type SheetSection, sheetSections } from './fields.ts';
import { isCollectionKey, isGroupKey, tablesOf } from './path.ts';
import type { CollectionKey, Spec } from './spec.ts';

/** A row that one of two specs has and the other has not, or that both have under different names. */
export interface RowChange {
  readonly kind: 'added' | 'removed' | 'renamed' | 'moved';
  /** `runners.r1` or `runners.r1.nodes.n2`. */
  readonly path: string;
  /** Name in the earlier and the later spec; undefined where it has none, or is not there. */
  readonly before: string | undefined;
  readonly after: string | undefined;
}

/** All that differs in one section of the sheet. */
export interface SectionChange {
  readonly branch: SheetSection['branch'];
  readonly title: string;
  readonly rows: readonly RowChange[];
  /** Fields of what both have, and those with a value of a row that is new. Values are SI numbers or text; null: empty. */
  readonly fields: readonly FactChange[];
}

type Row = Readonly<Record<string, unknown>>;
type Numbered = Row & { readonly id: string };

/** What differs between two specs, in the order of the sheet; sections that are alike are left out. Ticks are no part of it. Pure. */
export function compareSpecs(before: Spec, after: Spec): readonly SectionChange[] {
  return sheetSections.flatMap(({ branch, title }) => {
    const rows: RowChange[] = [];
    const fields: FactChange[] = [];
    if (isGroupKey(branch)) fields.push(...fieldChanges(branch, before[branch], after[branch]));
    else if (isCollectionKey(branch))
      compareRows({ branch, before: before[branch], after: after[branch] }, rows, fields);
    return rows.length + fields.length > 0 ? [{ branch, title, rows, fields }] : [];
  });
}

interface RowLists {
  readonly branch: CollectionKey;
  readonly before: readonly Numbered[];
  readonly after: readonly Numbered[];
}

function compareRows({ branch, before, after }: RowLists, rows: RowChange[], fields: FactChange[]): void {
  const tables = Object.keys(tablesOf(branch));
  rows.push(...rowChanges(branch, before, after));
  const old = byId(before);
  for (const row of after) {
    const path = `${branch}.${row.id}`;
    const was = old.get(row.id);
    fields.push(...fieldChanges(path, was ?? {}, row, [...tables, ...(was ? ['name'] : [])]));
    for (const table of tables) {
      const [then, now] = [rowsIn(was?.[table]), rowsIn(row[table])];
      // A new row's own table is told by its values.
      if (was) rows.push(...rowChanges(`${path}.${table}`, then, now));
      const earlier = byId(then);
      for (const one of now) fields.push(...fieldChanges(`${path}.${table}.${one.id}`, earlier.get(one.id) ?? {}, one));
    }
  }
}

const byId = (rows: readonly Numbered[]): ReadonlyMap<string, Numbered> => new Map(rows.map((row) => [row.id, row]));

function rowsIn(value: unknown): readonly Numbered[] {
  return Array.isArray(value) ? value : [];
}

function rowChanges(prefix: string, before: readonly Numbered[], after: readonly Numbered[]): RowChange[] {
  const [old, now] = [byId(before), byId(after)];
  const change = (kind: RowChange['kind'], id: string): RowChange => ({
    ...{ kind, path: `${prefix}.${id}`, before: nameOf(old.get(id)), after: nameOf(now.get(id)) },
  });
  const removed = before.filter(({ id }) => !now.has(id)).map(({ id }) => change('removed', id));
  const added = after.filter(({ id }) => !old.has(id)).map(({ id }) => change('added', id));
  const renamed = after
    .filter((row) => old.has(row.id) && nameOf(old.get(row.id)) !== nameOf(row))
    .map(({ id }) => change('renamed', id));
  const [wasOrder, isOrder] = [before.filter(({ id }) => now.has(id)), after.filter(({ id }) => old.has(id))];
  const wasAt = new Map(wasOrder.map(({ id }, i) => [id, i]));
  const stayed = stillInOrder(isOrder.map(({ id }) => wasAt.get(id) ?? 0));
  const moved = isOrder.filter((_, i) => !stayed.has(i)).map(({ id }) => change('moved', id));
  return [...removed, ...added, ...renamed, ...moved];
}

/** Indexes of the longest part of a list that rises (patience sorting): what was moved is the rest, as few as can be. */
function stillInOrder(places: readonly number[]): ReadonlySet<number> {
  /** For each length, the index where a rising part of that length ends lowest. */
  const ends: number[] = [];
  const before: (number | undefined)[] = [];
  for (const [i, place] of places.entries()) {
    let [low, high] = [0, ends.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((places[ends[middle] ?? 0] ?? 0) < place) low = middle + 1;
      else high = middle;
    }
    before[i] = ends[low - 1];
    ends[low] = i;
  }
  const out = new Set<number>();
  for (let at = ends.at(-1); at !== undefined; at = before[at]) out.add(at);
  return out;
}

function nameOf(row: Row | undefined): string | undefined {
  return typeof row?.name === 'string' ? row.name : undefined;
}

function fieldChanges(prefix: string, before: Row, after: Row, except: readonly string[] = []): FactChange[] {
  const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...keys]
    .filter((key) => key !== 'id' && key !== 'order' && !except.includes(key))
    .map((key) => ({ path: `${prefix}.${key}`, before: fact(before[key]), after: fact(after[key]) }))
    .filter((change) => !Object.is(change.before, change.after));
}

function fact(value: unknown): FactValue {
  if (typeof value === 'number' && !Number.isFinite(value)) return 'not a number';
  if (typeof value === 'number' || typeof value === 'string' || typeof value === 'boolean') return value;
  return Array.isArray(value) ? value.join('-') : null;
}
