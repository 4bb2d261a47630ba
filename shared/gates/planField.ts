import type { CoveredFacts, FactValue } from '../spec/covered.ts';
import type { Field } from '../spec/field.ts';
import { collections, groups, sheetSections } from '../spec/fields.ts';
import { fieldAt, isCollectionKey, isGroupKey } from '../spec/path.ts';
import type { Branch, CollectionKey, GroupKey, Spec } from '../spec/spec.ts';

/** A field that a plan's item asks for: one of the job, or one of every row. */
export type FieldPattern =
  | { readonly kind: 'one'; readonly branch: GroupKey; readonly key: string; readonly field: Field }
  | { readonly kind: 'rows'; readonly branch: CollectionKey; readonly key: string; readonly field: Field };

/** Reads `turbo.mass` or `joints.*.rootGap`; null when it names no field of the spec. */
export function fieldPattern(text: string): FieldPattern | null {
  const [branch = '', second = '', third, ...more] = text.split('.');
  if (more.length > 0) return null;
  if (isGroupKey(branch) && third === undefined) {
    const field = fieldAt(text);
    return field ? { kind: 'one', branch, key: second, field } : null;
  }
  if (!isCollectionKey(branch) || branch === 'limits' || second !== '*' || third === undefined) return null;
  // Any id that could be one will do to look the column up.
  const field = fieldAt(`${branch}.x.${third}`);
  return field ? { kind: 'rows', branch, key: third, field } : null;
}

/** A place in the spec that an item asks for, and what stands there. */
export interface FieldPlace {
  readonly path: string;
  /** What the row is called; null for a field of the job. */
  readonly row: string | null;
  /** null: empty, or not valid. */
  readonly value: FactValue;
}

type Row = Readonly<Record<string, unknown>>;

const factOf = (value: unknown): FactValue => {
  if (typeof value === 'number') return Number.isFinite(value) ? value : null;
  if (typeof value === 'string') return value;
  return Array.isArray(value) ? value.join('-') : null;
};

/** Every place of the spec that a field of a plan names, in the order of the rows; none when the text names no field. */
export function fieldPlaces(text: string, spec: Spec): readonly FieldPlace[] {
  const pattern = fieldPattern(text);
  if (!pattern) return [];
  if (pattern.kind === 'one') {
    const row: Row = spec[pattern.branch];
    return [{ path: text, row: null, value: factOf(row[pattern.key]) }];
  }
  const rows: readonly (Row & { readonly id: string })[] = spec[pattern.branch];
  return rows.map((row) => ({
    path: `${pattern.branch}.${row.id}.${pattern.key}`,
    row: typeof row.name === 'string' ? row.name : row.id,
    value: factOf(row[pattern.key]),
  }));
}

/** Facts a signature covers because an item asks for them: which rows there are, and the value of each. */
export function fieldFacts(text: string, spec: Spec): CoveredFacts {
  const pattern = fieldPattern(text);
  if (!pattern) return {};
  const places = fieldPlaces(text, spec).map(({ path, value }) => [path, value] as const);
  const rows: readonly { readonly id: string }[] = pattern.kind === 'rows' ? spec[pattern.branch] : [];
  return {
    ...(pattern.kind === 'rows' && { [pattern.branch]: rows.map(({ id }) => id).join(' ') }),
    ...Object.fromEntries(places),
  };
}

/** The branch a field of a plan stands in; null when it names no field. */
export function fieldBranch(text: string): Branch | null {
  return fieldPattern(text)?.branch ?? null;
}

/** A field that an item may ask for, with its words. */
export interface FieldChoice {
  readonly field: string;
  readonly words: string;
}

/** Every field that an item may ask for, in the order of the sheet. */
export const fieldChoices: readonly FieldChoice[] = sheetSections.flatMap(({ branch, title }) => {
  if (branch === 'limits' || branch === 'materials') return [];
  const rows: Readonly<Record<string, Field>> = isGroupKey(branch) ? groups[branch] : collections[branch];
  return Object.entries(rows)
    .filter(([key]) => key !== 'name')
    .map(([key, field]) => ({
      field: isGroupKey(branch) ? `${branch}.${key}` : `${branch}.*.${key}`,
      words: `${title}: ${field.label}${isGroupKey(branch) ? '' : ', every row'}`,
    }));
});
