import { fromSi, toSi } from '../units/format.ts';
import { parseQuantity } from '../units/parse.ts';
import { displayUnit, quantityRow } from '../units/quantities.ts';
import type { Field } from './field.ts';
import { collections, groups } from './fields.ts';
import { isId } from './id.ts';
import { fieldAt, isCollectionKey, isGroupKey, parsePath, tablesOf } from './path.ts';
import { byOrder, type Entries, orderAt } from './reader.ts';
import { repeatedKeys } from './repeatedKeys.ts';
import { type Checked, checkStored, describeValue } from './validate.ts';

/**
 * The spec file: JSON with `format`, `version`, one object per group, one object per collection keyed by element id.
 * Quantities are text with a unit (`"44.45 mm"`), or plain numbers in SI; a field that is left out is empty. Checklist ticks stay in the project: they are not a description of the header.
 */
export const SPEC_FORMAT = 'slipjoint-spec';
/** Version of the spec file written here; another is refused by name. */
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
  for (const unit of [displayUnit(field.quantity), quantityRow(field.quantity).units[0]]) {
    const shown = Number(fromSi(value, unit).toPrecision(15));
    if (toSi(shown, unit) === value) return unit.symbol === '1' ? shown : `${shown} ${unit.symbol}`;
  }
  return value;
}

/** What does not read as a value of its field is left out: a file holds a spec, not the garbage beside it. */
function exported(field: Field, stored: unknown): string | number | undefined {
  const checked = checkStored(field, stored);
  if (!checked.ok) return undefined;
  if (typeof checked.value === 'object') return typeof stored === 'string' ? stored : undefined;
  return field.kind === 'quantity' && typeof checked.value === 'number'
    ? quantityText(field, checked.value)
    : checked.value;
}

function fieldsOf(entries: Entries, prefix: string, rows: Readonly<Record<string, Field>>): Record<string, unknown> {
  const out: Record<string, unknown> = {};
  for (const key of Object.keys(rows)) {
    const field = rows[key];
    const value = field && exported(field, entries.get(`${prefix}.${key}`));
    // An own material that is gone is garbage too: the file would not load.
    if (value !== undefined && !(field && danglingIn(entries, field, value))) out[key] = value;
  }
  return out;
}

/** Whether a value names an own material that is not among the entries. */
function danglingIn(entries: Entries, field: Field, value: unknown): boolean {
  if (field.kind !== 'material' || typeof value !== 'string' || field.options.includes(value)) return false;
  return entries.get(`materials.${value}`) === undefined;
}

function sortedIds(entries: Entries, ids: ReadonlySet<string> | undefined, prefix: string): readonly string[] {
  const rows = [...(ids ?? [])].map((id) => ({ id, order: orderAt(entries, `${prefix}.${id}`) }));
  return rows.sort(byOrder).map((row) => row.id);
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
        order: orderAt(entries, path),
        ...fieldsOf(entries, path, collections[key]),
        ...exportTables(entries, path, ids),
      };
    }
    out[key] = elements;
  }
  return out;
}

function exportTables(entries: Entries, element: string, ids: ReadonlyMap<string, ReadonlySet<string>>): Json {
  const tables = Object.entries(tablesAt(element)).map(([table, fields]) => {
    const prefix = `${element}.${table}`;
    const rows = sortedIds(entries, ids.get(prefix), prefix).map((id) => {
      const path = `${prefix}.${id}`;
      return [id, { order: orderAt(entries, path), ...fieldsOf(entries, path, fields) }] as const;
    });
    return [table, Object.fromEntries(rows)] as const;
  });
  return Object.fromEntries(tables);
}

/** Tables inside the row at a path `collection.id`. */
function tablesAt(element: string): ReturnType<typeof tablesOf> {
  const [branch = '', , more] = element.split('.');
  return isCollectionKey(branch) && more === undefined ? tablesOf(branch) : {};
}

function childIds(entries: Entries): Map<string, Set<string>> {
  const out = new Map<string, Set<string>>();
  for (const path of entries.keys()) {
    const parsed = entries.get(path) === undefined ? null : parsePath(path);
    const [parent, id] =
      parsed?.kind === 'element'
        ? [parsed.branch, parsed.id]
        : parsed?.kind === 'node'
          ? [`${parsed.branch}.${parsed.id}.${parsed.table}`, parsed.node]
          : [];
    if (parent !== undefined && id !== undefined) out.set(parent, (out.get(parent) ?? new Set()).add(id));
  }
  return out;
}

/** What a file came to: entries, or everything that is wrong with it. */
export type FileRead =
  | { readonly ok: true; readonly entries: ReadonlyMap<string, unknown> }
  | { readonly ok: false; readonly problems: readonly FileProblem[] };

/** Longest file text taken, characters (own: ten times a sixteen-runner spec). */
export const SPEC_FILE_LIMIT = 1_000_000;
/** Most problems listed for one file (own: nobody reads more). */
export const PROBLEM_LIMIT = 500;

/** Characters of a path that a problem repeats. */
const PATH_SHOWN = 200;

/** Reads a file's text. Reports every problem (the first {@link PROBLEM_LIMIT}), takes nothing from a file that has one. */
export function parseSpecText(text: string): FileRead {
  if (text.length > SPEC_FILE_LIMIT) {
    return refused('', `expected at most ${SPEC_FILE_LIMIT} characters, got ${text.length}`);
  }
  const json = text.startsWith('\ufeff') ? text.slice(1) : text;
  const parsed = parseJson(json);
  if (!parsed.ok) return refused('', `expected JSON, got text that is not: ${parsed.error}`);
  const twice = repeatedKeys(json).map((path) => ({ path: path.slice(0, PATH_SHOWN), message: TWICE }));
  return twice.length > 0 ? { ok: false, problems: twice.slice(0, PROBLEM_LIMIT) } : importSpec(parsed.value);
}

function parseJson(text: string): Checked<unknown> {
  try {
    const value: unknown = JSON.parse(text);
    return { ok: true, value };
  } catch (error) {
    return { ok: false, error: error instanceof Error ? error.message : String(error) };
  }
}

const TWICE = 'expected each name once in its object, got it twice: one of the two values would be lost';

function refused(path: string, message: string): FileRead {
  return { ok: false, problems: [{ path, message }] };
}

/** Reads a file's content (already parsed JSON). */
export function importSpec(content: unknown): FileRead {
  const importer = new Importer();
  importer.file(content);
  const { problems, entries } = importer;
  if (problems.length === 0) return { ok: true, entries };
  const more = problems.length - PROBLEM_LIMIT;
  const rest = { path: '', message: `expected no problems, got ${more} more like these` };
  return { ok: false, problems: more > 0 ? [...problems.slice(0, PROBLEM_LIMIT), rest] : problems };
}

class Importer {
  readonly entries = new Map<string, unknown>();
  readonly problems: FileProblem[] = [];

  file(content: unknown): void {
    if (!isJson(content)) return this.bad('', 'a JSON object', content);
    if (content.format !== SPEC_FORMAT) return this.bad('format', `"${SPEC_FORMAT}"`, content.format);
    if (content.version !== SPEC_VERSION) return this.bad('version', String(SPEC_VERSION), content.version);
    for (const key of Object.keys(content)) {
      if (key === 'format' || key === 'version') continue;
      if (isGroupKey(key)) this.fields(key, content[key], []);
      else if (isCollectionKey(key)) this.elements(key, content[key]);
      else this.bad(key, `one of ${[...Object.keys(groups), ...Object.keys(collections)].join(', ')}`, key);
    }
    this.materials();
  }

  /** Every metal that is named has to be a listed one or stand in the file. */
  private materials(): void {
    for (const [path, value] of this.entries) {
      const field = fieldAt(path);
      if (field?.kind !== 'material' || !danglingIn(this.entries, field, value)) continue;
      this.bad(path, `one of ${field.options.join(', ')} or the id of a row of materials`, value);
    }
  }

  private bad(path: string, expected: string, came: unknown): void {
    this.say(path, `expected ${expected}, got ${describeValue(came)}`);
  }

  private say(path: string, message: string): void {
    this.problems.push({ path: path.slice(0, PATH_SHOWN), message });
  }

  private elements(prefix: string, value: unknown): void {
    if (!isJson(value)) return this.bad(prefix, 'an object keyed by id', value);
    const names = new Set<string>();
    for (const [i, id] of Object.keys(value).entries()) {
      const element = value[id];
      const path = `${prefix}.${id}`;
      if (!isId(id)) this.bad(path, 'an id of up to 40 small letters, digits and dashes', id);
      else if (!isJson(element)) this.bad(path, 'an object', element);
      else this.element(path, 'order' in element ? element : { ...element, order: i + 1 });
      const name = isJson(element) && typeof element.name === 'string' ? element.name.trim().toLowerCase() : null;
      if (name !== null && names.has(name)) this.bad(`${path}.name`, 'each name once', `${name}, twice`);
      if (name !== null) names.add(name);
    }
  }

  private element(path: string, element: Json): void {
    const { order } = element;
    if (typeof order === 'number' && Number.isFinite(order)) this.entries.set(path, order === 0 ? 0 : order);
    else this.bad(`${path}.order`, 'a finite number', order);
    const tables = Object.keys(tablesAt(path));
    this.fields(path, element, ['order', ...tables]);
    for (const table of tables) if (Object.hasOwn(element, table)) this.elements(`${path}.${table}`, element[table]);
  }

  private fields(prefix: string, value: unknown, except: readonly string[]): void {
    if (!isJson(value)) return this.bad(prefix, 'an object', value);
    for (const key of Object.keys(value)) if (!except.includes(key)) this.field(prefix, key, value[key]);
  }

  private field(prefix: string, key: string, value: unknown): void {
    const path = `${prefix}.${key}`;
    const field = key.includes('.') ? null : fieldAt(path);
    if (!field) return this.bad(path, `a field of ${prefix.slice(0, PATH_SHOWN)}`, key);
    if (typeof value === 'object')
      return this.bad(
        path,
        field.kind === 'integer' || field.kind === 'number' ? 'a number' : 'text or a number',
        value,
      );
    const read =
      typeof value === 'string' && field.kind === 'quantity' ? quantityInFile(field, value) : checkStored(field, value);
    if (!read.ok) this.say(path, read.error);
    else this.entries.set(path, typeof read.value === 'object' ? value : read.value);
  }
}

/** In a file a quantity must say its unit: a bare number in quotes could be read two ways. */
function quantityInFile(field: Extract<Field, { kind: 'quantity' }>, text: string): ReturnType<typeof checkStored> {
  const parsed = parseQuantity(field.quantity, text);
  if (!parsed.ok) return parsed;
  if (parsed.bare && displayUnit(field.quantity).symbol !== '1') {
    const example = `${displayUnit(field.quantity).symbol}`;
    return { ok: false, error: `expected a unit after the number, such as ${example}, got ${describeValue(text)}` };
  }
  return checkStored(field, parsed.si);
}
