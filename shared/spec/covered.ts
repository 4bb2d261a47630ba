import { formatSi } from '../units/format.ts';
import type { FieldGroup } from './field.ts';
import { branchTitle, collections, sheetSections } from './fields.ts';
import { fieldAt, isCollectionKey, isGroupKey, tablesOf } from './path.ts';
import type { Branch, CollectionKey, Spec } from './spec.ts';

/** One authored fact a signature covers: SI number, text, or null for an empty field. */
export type FactValue = number | string | boolean | null;
/** Facts by spec path, sorted by path. */
export type CoveredFacts = Readonly<Record<string, FactValue>>;

/** What differs between two sets of facts. */
export interface FactChange {
  readonly path: string;
  /** undefined: the fact did not exist. */
  readonly before: FactValue | undefined;
  readonly after: FactValue | undefined;
}

type Row = Readonly<Record<string, unknown>>;

function scalar(value: unknown): FactValue {
  // The record is JSON, which would keep it as an empty field.
  if (typeof value === 'number' && !Number.isFinite(value)) return 'not a number';
  if (typeof value === 'number' || typeof value === 'string' || typeof value === 'boolean') return value;
  return Array.isArray(value) ? value.join('-') : null;
}

function addRow(out: Map<string, FactValue>, prefix: string, row: Row): void {
  for (const key of Object.keys(row)) {
    // A table of the row is no fact of its own: its rows are.
    if (key !== 'id' && key !== 'order' && !isTable(row[key])) out.set(`${prefix}.${key}`, scalar(row[key]));
  }
}

const isTable = (value: unknown): boolean => Array.isArray(value) && value.every((v) => typeof v === 'object');

type Numbered = Row & { readonly id: string };

/** Rows and, as a fact of its own, which there are and in what order. */
function addRows(out: Map<string, FactValue>, prefix: string, rows: readonly Numbered[]): void {
  out.set(prefix, rows.map((row) => row.id).join(' '));
  for (const row of rows) addRow(out, `${prefix}.${row.id}`, row);
}

function addElements(out: Map<string, FactValue>, branch: CollectionKey, rows: readonly Numbered[]): void {
  for (const row of rows) {
    const prefix = `${branch}.${row.id}`;
    addRow(out, prefix, row);
    for (const table of Object.keys(tablesOf(branch))) addRows(out, `${prefix}.${table}`, rowsIn(row[table]));
  }
}

function rowsIn(table: unknown): readonly Numbered[] {
  return Array.isArray(table) ? table : [];
}

function addBranch(out: Map<string, FactValue>, spec: Spec, branch: Branch): void {
  if (isGroupKey(branch)) addRow(out, branch, spec[branch]);
  else if (isCollectionKey(branch)) {
    out.set(branch, spec[branch].map((row) => row.id).join(' '));
    addElements(out, branch, spec[branch]);
  }
}

/** Own materials that the facts so far name: one that nothing is made of is nobody's fact. */
function addMaterials(out: Map<string, FactValue>, spec: Spec): void {
  const named = new Set([...out].filter(([path]) => fieldAt(path)?.kind === 'material').map(([, value]) => value));
  const used = spec.materials.filter((row) => named.has(row.id));
  addElements(out, 'materials', used);
}

/**
 * Every authored fact below the given branches, and the ticks of one gate. Of the limits set for the job only those of the given rules
 * count, of its own materials only those the other facts name: what a gate does not look at cannot make its signatures stale.
 */
export function coveredFacts(
  spec: Spec,
  branches: readonly Branch[],
  gate: string,
  rules: ReadonlySet<string> = new Set(),
): CoveredFacts {
  const out = new Map<string, FactValue>();
  for (const branch of branches) if (branch !== 'limits' && branch !== 'materials') addBranch(out, spec, branch);
  if (branches.includes('materials')) addMaterials(out, spec);
  if (branches.includes('limits'))
    addElements(
      out,
      'limits',
      spec.limits.filter((row) => rules.has(row.id)),
    );
  for (const key of Object.keys(spec.ticks)) {
    const tick = spec.ticks[key];
    // An item unticked again without a note is the same fact as one never touched.
    if (tick && key.startsWith(`${gate}.`) && (tick.done || tick.note !== '' || tick.photos)) {
      out.set(`ticks.${key}.done`, tick.done);
      out.set(`ticks.${key}.note`, tick.note);
      if (tick.photos) out.set(`ticks.${key}.photos`, tick.photos.join(' '));
    }
  }
  return Object.fromEntries([...out].sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** The facts that moved between two sets, sorted by path. */
export function changedFacts(before: CoveredFacts, after: CoveredFacts): FactChange[] {
  const paths = [...new Set([...Object.keys(before), ...Object.keys(after)])].sort();
  return paths
    .filter((path) => !Object.is(before[path], after[path]))
    .map((path) => ({ path, before: before[path], after: after[path] }));
}

/** A fact as a person reads it, in the display unit of its field. */
export function formatFact(path: string, value: FactValue | undefined): string {
  if (value === undefined) return 'not there';
  if (value === null) return 'empty';
  const field = fieldAt(path);
  if (field?.kind === 'quantity' && typeof value === 'number') return formatSi(field.quantity, value);
  return typeof value === 'boolean' ? (value ? 'yes' : 'no') : String(value);
}

/** A path in words, with the names the spec gives: `Runner 3, node 2: Y`. A row that is gone is called by its id. */
export function pathWords(path: string, spec: Spec): string {
  const [branch, id, sub, nodeId] = path.split('.');
  if (branch !== undefined && isCollectionKey(branch)) return rowWords(path, branch, spec);
  if (branch === 'ticks')
    return `checklist ${id}: ${sub}${nodeId === 'note' || nodeId === 'photos' ? `, ${nodeId}` : ''}`;
  return fieldAt(path)?.label ?? path;
}

/** What a row of a table is called, by table. */
const rowNouns: Readonly<Record<string, string>> = { nodes: 'node', points: 'row', ruptures: 'rupture' };

function rowWords(path: string, branch: CollectionKey, spec: Spec): string {
  const [, id, sub = '', nodeId] = path.split('.');
  if (id === undefined) return `${branchTitle(branch)}: which, in what order`;
  const row: Numbered | undefined = spec[branch].find((r) => r.id === id);
  const name = typeof row?.name === 'string' ? row.name : `${nounOf(branch)} ${id}`;
  const table = Object.hasOwn(tablesOf(branch), sub) ? rowsIn(row?.[sub]) : null;
  const noun = rowNouns[sub] ?? sub;
  if (table && nodeId === undefined) return `${name}: ${noun}s, in what order`;
  const node = table && nodeId !== undefined ? `, ${noun} ${placeIn(table, nodeId)}` : '';
  // The label of the name's column is what the row is called: "Runner 3: Runner" would say nothing.
  const label = sub === 'name' ? 'name' : fieldAt(path)?.label;
  return `${name}${node}${label === undefined ? '' : `: ${label}`}`;
}

/** What one row of a collection is called: the label of its name, or that of the sheet where rows have none. */
function nounOf(branch: CollectionKey): string {
  const rows: FieldGroup = collections[branch];
  return rows.name?.label ?? sheetSections.find((s) => s.branch === branch)?.noun ?? branch;
}

function placeIn(table: readonly Numbered[], node: string): string {
  const index = table.findIndex((row) => row.id === node);
  return index < 0 ? node : String(index + 1);
}
