import type { Field } from '../../shared/spec/field.ts';
import { collections, groups, type SheetSection } from '../../shared/spec/fields.ts';
import { isCollectionKey, isGroupKey } from '../../shared/spec/path.ts';

/** What of a section answers a search: nothing, the named fields, or all of it. */
export type Found = 'none' | 'all' | ReadonlySet<string>;

const says = (text: string, words: readonly string[]): boolean => {
  const low = text.toLowerCase();
  return words.every((word) => low.includes(word));
};

function fieldsOf(branch: string): Readonly<Record<string, Field>> {
  if (isGroupKey(branch)) return groups[branch];
  return isCollectionKey(branch) ? collections[branch] : {};
}

/** Searches the titles and field labels of a section for all words of a text, capitals or not. An empty text finds everything. */
export function findIn(section: SheetSection, text: string): Found {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0 || says(section.title, words)) return 'all';
  const fields = Object.entries(fieldsOf(section.branch)).filter(([, { label }]) =>
    says(`${section.title} ${label}`, words),
  );
  return fields.length === 0 ? 'none' : new Set(fields.map(([key]) => key));
}
