import { describe, expect, it } from 'vitest';
import { isQuantityKey } from '../units/quantities.ts';
import type { Example, Formula } from './formula.ts';
import { findFormula, formulas } from './formulas.ts';

const modules = import.meta.glob<Readonly<Record<string, unknown>>>('./*/*.ts', { eager: true });

/** Formula exports found in the files, with the file's base name. */
function foundInFiles(): { file: string; name: string; id: string }[] {
  const found: { file: string; name: string; id: string }[] = [];
  for (const [path, exports] of Object.entries(modules)) {
    const file = path.replace(/^.*\//, '').replace(/\.ts$/, '');
    for (const [name, value] of Object.entries(exports)) {
      if (typeof value !== 'object' || value === null || !('id' in value) || !('evaluate' in value)) continue;
      found.push({ file, name, id: String(value.id) });
    }
  }
  return found;
}

const camelCase = (id: string) => id.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());

function inputsOf(formula: Formula, pick: (range: readonly [number, number], index: number) => number) {
  return Object.fromEntries(Object.entries(formula.inputs).map(([key, param], i) => [key, pick(param.range, i)]));
}

describe('formula registry', () => {
  it('lists exactly the formulas found in the files, each under its own file name', () => {
    const found = foundInFiles();
    expect(found.map((f) => f.id).sort()).toEqual(formulas.map((f) => f.id));
    for (const { file, name, id } of found) {
      expect(id).toBe(file);
      expect(name).toBe(camelCase(id));
    }
  });

  it('is sorted by id, ids unique and findable', () => {
    const ids = formulas.map((f) => f.id);
    expect(ids).toEqual([...new Set(ids)].sort());
    for (const formula of formulas) expect(findFormula(formula.id)).toBe(formula);
    expect(findFormula('no-such-formula')).toBeUndefined();
  });
});

describe.each(formulas.map((formula) => [formula.id, formula] as const))('%s', (_id, formula) => {
  it('names a known quantity, a proper range and a meaning for every input', () => {
    expect(isQuantityKey(formula.output.quantity)).toBe(true);
    expect(formula.title).not.toBe('');
    expect(formula.output.help).not.toBe('');
    expect(formula.source.document).not.toBe('');
    for (const param of Object.values(formula.inputs)) {
      expect(isQuantityKey(param.quantity)).toBe(true);
      expect(param.range[0]).toBeLessThan(param.range[1]);
      expect(param.help).not.toBe('');
      if (param.fallback === undefined) continue;
      expect(param.fallback).toBeGreaterThanOrEqual(param.range[0]);
      expect(param.fallback).toBeLessThanOrEqual(param.range[1]);
    }
  });

  it.each(formula.examples.map((example, i) => [i, example] as const))('example %i', (_i, example: Example<string>) => {
    const got = formula.evaluate(example.inputs);
    expect(got.known, JSON.stringify(got)).toBe(true);
    if (!got.known) return;
    expect(Math.abs(got.value - example.expected)).toBeLessThanOrEqual(example.tolerance * Math.abs(example.expected));
    expect(example.source.document).not.toBe('');
    expect(example.tolerance).toBeLessThanOrEqual(0.02);
  });

  it('answers at the middle and at every corner of its ranges with a finite number or a stated reason', () => {
    const keys = Object.keys(formula.inputs);
    for (let corner = 0; corner < 2 ** keys.length; corner++) {
      const inputs = inputsOf(formula, ([low, high], i) => ((corner >> i) & 1 ? high : low));
      const got = formula.evaluate(inputs);
      if (got.known) expect(Number.isFinite(got.value), JSON.stringify(inputs)).toBe(true);
      // A corner may break a condition between inputs (wall thicker than the tube); it may not come out as a non-finite number.
      else if (got.why.reason === 'inconsistent') expect(got.why.detail).not.toContain('finite');
      else expect(got.why.reason).toBe('outOfValidity');
    }
  });

  it.each(Object.keys(formula.inputs))('outside the range of %s or NaN: outside validity, naming the input', (key) => {
    const [example] = formula.examples;
    const param = formula.inputs[key];
    if (!param) throw new Error(`no input ${key}`);
    const step = 1e-6 * Math.max(Math.abs(param.range[0]), Math.abs(param.range[1]));
    for (const value of [param.range[0] - step, param.range[1] + step, Number.NaN, Number.POSITIVE_INFINITY]) {
      const got = formula.evaluate({ ...example.inputs, [key]: value });
      expect(got).toMatchObject({ known: false, why: { reason: 'outOfValidity', input: `${formula.id}: ${key}` } });
    }
  });
});
