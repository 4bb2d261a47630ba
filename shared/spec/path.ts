import type { Field, FieldGroup } from './field.ts';
import { collections, groups, tables } from './fields.ts';
import { isId } from './id.ts';
import type { CollectionKey, GroupKey } from './spec.ts';

/**
 * A spec path is the key of one entry of the spec document:
 * `engine.lambda` · `runners.r1` (exists, value = order) · `runners.r1.name` · `runners.r1.nodes.n2` · `runners.r1.nodes.n2.x` · `materials.m1.points.p2.yield` · `ticks.design.route-agreed`
 */
export type ParsedPath =
  | { readonly kind: 'field'; readonly branch: GroupKey; readonly key: string; readonly field: Field }
  | { readonly kind: 'element'; readonly branch: CollectionKey; readonly id: string }
  | {
      readonly kind: 'elementField';
      readonly branch: CollectionKey;
      readonly id: string;
      readonly key: string;
      readonly field: Field;
    }
  | NodePath
  | (Omit<NodePath, 'kind'> & {
      readonly kind: 'nodeField';
      readonly key: string;
      readonly field: Field;
    })
  | { readonly kind: 'tick'; readonly gate: string; readonly item: string };

/** A row of a table inside a row. */
interface NodePath {
  readonly kind: 'node';
  readonly branch: CollectionKey;
  readonly id: string;
  readonly table: string;
  readonly node: string;
}

/** True for the name of a group of single fields. */
export function isGroupKey(key: string): key is GroupKey {
  return Object.hasOwn(groups, key);
}

/** True for the name of a collection. */
export function isCollectionKey(key: string): key is CollectionKey {
  return Object.hasOwn(collections, key);
}

function fieldIn(rows: Readonly<Record<string, Field>>, key: string): Field | null {
  return Object.hasOwn(rows, key) ? (rows[key] ?? null) : null;
}

const tablesByBranch: Readonly<Record<string, Readonly<Record<string, FieldGroup>>>> = tables;
const noTables: Readonly<Record<string, FieldGroup>> = {};

/** The tables inside a row of a collection, with their fields; most have none. */
export function tablesOf(branch: CollectionKey): Readonly<Record<string, FieldGroup>> {
  return (Object.hasOwn(tablesByBranch, branch) && tablesByBranch[branch]) || noTables;
}

type Place = Omit<NodePath, 'kind' | 'node'>;

function parseNode(place: Place, fields: FieldGroup, parts: readonly string[]): ParsedPath | null {
  const [node, key, ...rest] = parts;
  if (node === undefined || !isId(node) || rest.length > 0) return null;
  if (key === undefined) return { kind: 'node', ...place, node };
  const field = fieldIn(fields, key);
  return field ? { kind: 'nodeField', ...place, node, key, field } : null;
}

function parseElement(branch: CollectionKey, id: string, rest: readonly string[]): ParsedPath | null {
  if (!isId(id)) return null;
  const [key, ...more] = rest;
  if (key === undefined) return { kind: 'element', branch, id };
  const rows = Object.hasOwn(tablesOf(branch), key) ? tablesOf(branch)[key] : undefined;
  if (rows) return parseNode({ branch, id, table: key }, rows, more);
  const field = more.length === 0 ? fieldIn(collections[branch], key) : null;
  return field ? { kind: 'elementField', branch, id, key, field } : null;
}

/** Reads a path; null when it names nothing in the spec. */
export function parsePath(path: string): ParsedPath | null {
  const [branch, second, ...rest] = path.split('.');
  if (branch === undefined || second === undefined) return null;
  if (isGroupKey(branch)) {
    const field = rest.length === 0 ? fieldIn(groups[branch], second) : null;
    return field ? { kind: 'field', branch, key: second, field } : null;
  }
  if (branch === 'ticks') {
    const [item, ...more] = rest;
    return item !== undefined && more.length === 0 && isId(second) && isId(item)
      ? { kind: 'tick', gate: second, item }
      : null;
  }
  return isCollectionKey(branch) ? parseElement(branch, second, rest) : null;
}

/** The field row behind a path that holds a value; null for existence marks and ticks. */
export function fieldAt(path: string): Field | null {
  const parsed = parsePath(path);
  return parsed && 'field' in parsed ? parsed.field : null;
}
