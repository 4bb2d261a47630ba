import { expect, it } from 'vitest';
import { collections, groups, sheetSections } from './fields.ts';

it('shows every branch on the sheet, once', () => {
  const shown = sheetSections.map((s) => s.branch).sort();
  expect(shown).toEqual([...Object.keys(groups), ...Object.keys(collections)].sort());
});

it('says what one row of every collection is called', () => {
  for (const { branch, noun } of sheetSections)
    expect(noun !== undefined, branch).toBe(Object.hasOwn(collections, branch));
});
