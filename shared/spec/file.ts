import { toSi } from '../units/format.ts';
import { displayUnit, quantityRow } from '../units/quantities.ts';
import type { Field } from './field.ts';
import { collections, groups, nodeFields } from './fields.ts';
import { fieldAt, isCollectionKey, isGroupKey, isId, parsePath } from './path.ts';
import type { Entries } from './reader.ts';
import { checkStored, checkTyped, storedNumber } from './validate.ts';

/**
 * The spec file: JSON with `format`, `version`, one object per group, one object per collection keyed by element id.
 * Quantities are text with a unit (`"44.45 mm"`), or plain numbers in SI. Checklist ticks stay in the project: they are not a description of the header.
 */
export const SPEC_FORMAT = 'slipjoint-spec';
export const SPEC_VERSION = 1;

/** One thing wrong with a file, at a path a person can find. */
export interface FileProblem {
  readonly path: string;
  readonly message: string;
}

type Json = Readonly<Record<string, unknown>>;

function isJson(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Text that reads back to exactly this SI number: in the display unit when that is exact, else in SI. */
function quantityText(field: Extract<Field, { kind: 'quantity' }>, value: number): string | number {
  const row = quantityRow(field.quantity);
  for (const unit of [displayUnit(field.quantity), row.units[0]]) {
    const shown = Number(((value - (unit.offset ?? 0)) / unit.factor).toPrecision(15));
    if (toSi(shown, unit) === value && Math.abs(shown) < 1e15)
      return unit.symbol === '1' ? shown : `${shown} ${unit.symbol}`;
  }
  return value;
}

function exported(field: Field, stored: unknown): unknown {
  const n = storedNumber(stored);
  if (field.kind === 'quantity' && n !== null) return quantityText(field, n);
  return n ?? stored;
}

function fieldsOf(entries: Entries, prefix: string, rows: Readonly<Record<string, Field>>): Record<string, unknown> {
  const out: Record<string, unknown> = {};
  for (const key of Object.keys(rows)) {
    const field = rows[key];
    const stored = entries.get(`${prefix}.${key}`);
    if (field && stored !== undefined) out[key] = exported(field, stored);
  }
  return out;
}

function orderOf(entries: Entries, path: string): number {
  const value = entries.get(path);
  return typeof value === 'number' ? value : 0;
}

function sortedIds(entries: Entries, ids: ReadonlySet<string> | undefined, prefix: string): string[] {
  const order = (id: string): number => orderOf(entries, `${prefix}.${id}`);
  return [...(ids ?? [])].sort((a, b) => order(a) - order(b) || (a < b ? -1 : 1));
}

/** Entries as a file's content, ready for JSON.stringify. Reading it back gives the same SI numbers. */
export function exportSpec(entries: Entries): Json {
  const ids = childIds(entries);
  const out: Record<string, unknown> = { format: SPEC_FORMAT, version: SPEC_VERSION };
  for (const key of Object.keys(groups)) if (isGroupKey(key)) out[key] = fieldsOf(entries, key, groups[key]);
  for (const key of Object.keys(collections)) {
    if (!isCollectionKey(key)) continue;
    const elements: Record<string, unknown> = {};
    for (const id of sortedIds(entries, ids.get(key), key)) {
      const path = `${key}.${id}`;
      elements[id] = {
        order: orderOf(entries, path),
        ...fieldsOf(entries, path, collections[key]),
        ...(key === 'runners' && { nodes: exportNodes(entries, path, ids.get(`${path}.nodes`)) }),
      };
    }
    out[key] = elements;
  }
  return out;
}

function exportNodes(entries: Entries, runner: string, ids: ReadonlySet<string> | undefined): Json {
  const prefix = `${runner}.nodes`;
  const out: Record<string, unknown> = {};
  for (const id of sortedIds(entries, ids, prefix)) {
    const path = `${prefix}.${id}`;
    out[id] = { order: orderOf(entries, path), ...fieldsOf(entries, path, nodeFields) };
  }
  return out;
}

function childIds(entries: Entries): Map<string, Set<string>> {
  const out = new Map<string, Set<string>>();
  for (const path of entries.keys()) {
    const parsed = parsePath(path);
    const [parent, id] =
      parsed?.kind === 'element'
        ? [parsed.branch, parsed.id]
        : parsed?.kind === 'node'
          ? [`runners.${parsed.id}.nodes`, parsed.node]
          : [];
    if (parent !== undefined && id !== undefined) out.set(parent, (out.get(parent) ?? new Set()).add(id));
  }
  return out;
}

/** What a file came to: entries, or everything that is wrong with it. */
export type FileRead =
  | { readonly ok: true; readonly entries: ReadonlyMap<string, unknown> }
  | { readonly ok: false; readonly problems: readonly FileProblem[] };

/** Reads a file's text. Reports every problem, takes nothing from a file that has one. */
export function parseSpecText(text: string): FileRead {
  try {
    return importSpec(JSON.parse(text));
  } catch (error) {
    return {
      ok: false,
      problems: [{ path: '', message: `expected JSON, ${error instanceof Error ? error.message : String(error)}` }],
    };
  }
}

/** Reads a file's content (already parsed JSON). */
export function importSpec(content: unknown): FileRead {
  const importer = new Importer();
  importer.file(content);
  return importer.problems.length > 0
    ? { ok: false, problems: importer.problems }
    : { ok: true, entries: importer.entries };
}

class Importer {
  readonly entries = new Map<string, unknown>();
  readonly problems: FileProblem[] = [];

  file(content: unknown): void {
    if (!isJson(content)) return this.bad('', 'expected a JSON object');
    if (content.format !== SPEC_FORMAT)
      return this.bad('format', `expected "${SPEC_FORMAT}", got ${show(content.format)}`);
    if (content.version !== SPEC_VERSION)
      return this.bad('version', `expected ${SPEC_VERSION}, got ${show(content.version)}`);
    for (const key of Object.keys(content)) {
      if (key === 'format' || key === 'version') continue;
      if (isGroupKey(key)) this.fields(key, content[key], []);
      else if (isCollectionKey(key)) this.elements(key, content[key]);
      else this.bad(key, 'this names nothing in a spec');
    }
  }

  private bad(path: string, message: string): void {
    this.problems.push({ path, message });
  }

  private elements(prefix: string, value: unknown): void {
    if (!isJson(value)) return this.bad(prefix, `expected an object keyed by id, got ${show(value)}`);
    const names = new Set<string>();
    for (const [i, id] of Object.keys(value).entries()) {
      const element = value[id];
      const path = `${prefix}.${id}`;
      if (!isId(id)) this.bad(path, 'expected an id of small letters, digits and dashes');
      else if (!isJson(element)) this.bad(path, `expected an object, got ${show(element)}`);
      else this.element(path, element, i + 1);
      const name = isJson(element) && typeof element.name === 'string' ? element.name.trim().toLowerCase() : null;
      if (name !== null && names.has(name))
        this.bad(`${path}.name`, `expected each name once, ${show(name)} is there twice`);
      if (name !== null) names.add(name);
    }
  }

  private element(path: string, element: Json, place: number): void {
    const order = element.order ?? place;
    if (typeof order !== 'number' || !Number.isFinite(order))
      this.bad(`${path}.order`, `expected a finite number, got ${show(order)}`);
    this.entries.set(path, order);
    this.fields(path, element, ['order', 'nodes']);
    if ('nodes' in element) this.elements(`${path}.nodes`, element.nodes);
  }

  private fields(prefix: string, value: unknown, except: readonly string[]): void {
    if (!isJson(value)) return this.bad(prefix, `expected an object, got ${show(value)}`);
    for (const key of Object.keys(value)) if (!except.includes(key)) this.field(`${prefix}.${key}`, value[key]);
  }

  private field(path: string, value: unknown): void {
    const field = fieldAt(path);
    if (!field) return this.bad(path, 'this names no field of a spec');
    const stored = typeof value === 'string' && field.kind === 'quantity' ? this.quantity(path, field, value) : value;
    if (stored === null) return;
    const checked = checkStored(field, stored);
    if (checked.ok) this.entries.set(path, stored);
    else this.bad(path, checked.error);
  }

  /** In a file a quantity must say its unit: a bare number in quotes could be read two ways. */
  private quantity(path: string, field: Extract<Field, { kind: 'quantity' }>, text: string): number | null {
    const checked = checkTyped(field, text);
    const n = checked.ok ? storedNumber(checked.value) : null;
    const needsUnit = displayUnit(field.quantity).symbol !== '1' && /^[\s\d.,eE+-]*$/.test(text);
    if (checked.ok && n !== null && !needsUnit) return n;
    this.bad(path, checked.ok ? `expected a unit after the number, got "${text}"` : checked.error);
    return null;
  }
}

function show(value: unknown): string {
  return (JSON.stringify(value) ?? 'nothing').slice(0, 60);
}
