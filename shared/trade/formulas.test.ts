import { describe, expect, it } from 'vitest';
import { formulasIn } from '../../tests/support/formulaTable.ts';
import { findFormula, formulas } from './formulas.ts';

const modules = import.meta.glob<Readonly<Record<string, unknown>>>(['./*/*.ts', '!./*/*.test.ts'], { eager: true });
const tables = import.meta.glob<string>('./*/formulas.test.ts', { query: '?raw', import: 'default', eager: true });

describe('formula registry', () => {
  const found = formulasIn(modules).map(({ formula }) => formula);

  it('lists exactly the formulas found in the files', () => {
    expect(found.map(({ id }) => id).sort()).toEqual(formulas.map(({ id }) => id));
    for (const formula of found) expect(formulas).toContain(formula);
  });

  it('is sorted by id, ids unique and findable', () => {
    const ids = formulas.map(({ id }) => id);
    expect(ids).toEqual([...new Set(ids)].sort());
    for (const formula of formulas) expect(findFormula(formula.id)).toBe(formula);
    expect(findFormula('no-such-formula')).toBeUndefined();
  });

  // The table runs the examples: a folder of formulas without one would go unchecked.
  it('has a table of its own in each folder that holds a formula', () => {
    const folders = Object.entries(modules).flatMap(([path, exports]) =>
      formulasIn({ [path]: exports }).length > 0 ? [path.replace(/\/[^/]+$/, '')] : [],
    );
    expect(Object.keys(tables).map((path) => path.replace(/\/[^/]+$/, ''))).toEqual([...new Set(folders)].sort());
    for (const [path, table] of Object.entries(tables))
      expect(table, path).toContain("formulaTable(import.meta.glob(['./*.ts', '!./*.test.ts'], { eager: true }))");
  });
});
