import { formatSi } from '../units/format.ts';
import { branchTitle, collections } from './fields.ts';
import { fieldAt, isCollectionKey, isGroupKey } from './path.ts';
import type { Branch, Spec } from './spec.ts';

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
  if (typeof value === 'number' || typeof value === 'string' || typeof value === 'boolean') return value;
  return Array.isArray(value) ? value.join('-') : null;
}

function addRow(out: Map<string, FactValue>, prefix: string, row: Row): void {
  for (const key of Object.keys(row)) {
    if (key !== 'id' && key !== 'order' && key !== 'nodes') out.set(`${prefix}.${key}`, scalar(row[key]));
  }
}

/** Rows and, as a fact of its own, which there are and in what order. */
function addRows(out: Map<string, FactValue>, prefix: string, rows: readonly (Row & { readonly id: string })[]): void {
  out.set(prefix, rows.map((row) => row.id).join(' '));
  for (const row of rows) addRow(out, `${prefix}.${row.id}`, row);
}

function addBranch(out: Map<string, FactValue>, spec: Spec, branch: Branch): void {
  if (isGroupKey(branch)) addRow(out, branch, spec[branch]);
  else if (isCollectionKey(branch)) addRows(out, branch, spec[branch]);
  if (branch !== 'runners') return;
  for (const runner of spec.runners) addRows(out, `runners.${runner.id}.nodes`, runner.nodes);
}

/** Every authored fact below the given branches, and the ticks of one gate. */
export function coveredFacts(spec: Spec, branches: readonly Branch[], gate: string): CoveredFacts {
  const out = new Map<string, FactValue>();
  for (const branch of branches) addBranch(out, spec, branch);
  for (const key of Object.keys(spec.ticks)) {
    const tick = spec.ticks[key];
    // An item unticked again without a note is the same fact as one never touched.
    if (tick && key.startsWith(`${gate}.`) && (tick.done || tick.note !== '')) {
      out.set(`ticks.${key}.done`, tick.done);
      out.set(`ticks.${key}.note`, tick.note);
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
  const field = fieldAt(path);
  const [branch, id, sub, nodeId] = path.split('.');
  if (branch !== undefined && isCollectionKey(branch)) {
    const row = spec[branch].find((r) => r.id === id);
    if (id === undefined) return `${branchTitle(branch)}: which, in what order`;
    const name = row?.name ?? `${collections[branch].name.label} ${id}`;
    if (sub === 'nodes' && nodeId === undefined) return `${name}: nodes, in what order`;
    const node = sub === 'nodes' && nodeId !== undefined ? `, node ${nodeNumber(spec, id, nodeId)}` : '';
    // The label of the name's column is what the row is called: "Runner 3: Runner" would say nothing.
    const label = sub === 'name' ? 'name' : field?.label;
    return `${name}${node}${label === undefined ? '' : `: ${label}`}`;
  }
  if (branch === 'ticks') return `checklist ${id}: ${sub}${nodeId === 'note' ? ', note' : ''}`;
  return field?.label ?? path;
}

function nodeNumber(spec: Spec, runner: string | undefined, node: string): string {
  const index = spec.runners.find((r) => r.id === runner)?.nodes.findIndex((n) => n.id === node) ?? -1;
  return index < 0 ? node : String(index + 1);
}
