import { describe, expect, it } from 'vitest';
import type { Example, Formula } from '../../shared/trade/formula.ts';
import { isQuantityKey } from '../../shared/units/quantities.ts';

/** Modules by path, as `import.meta.glob` gives them. */
export type Modules = Readonly<Record<string, Readonly<Record<string, unknown>>>>;

interface Found {
  readonly file: string;
  readonly name: string;
  readonly formula: Formula;
}

/** Whatever can be evaluated by name: a definition that says nothing else is found too, and fails. */
const isFormula = (value: unknown): value is Formula =>
  typeof value === 'object' && value !== null && 'evaluate' in value;

/** Formula exports found in the files, with the file's base name. */
export function formulasIn(modules: Modules): readonly Found[] {
  return Object.entries(modules).flatMap(([path, exports]) => {
    const file = path.replace(/^.*\//, '').replace(/\.ts$/, '');
    return Object.entries(exports).flatMap(([name, formula]) => (isFormula(formula) ? [{ file, name, formula }] : []));
  });
}

const camelCase = (id: string) => id.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());

function inputsOf(formula: Formula, pick: (range: readonly [number, number], index: number) => number) {
  return Object.fromEntries(Object.entries(formula.inputs).map(([key, param], i) => [key, pick(param.range, i)]));
}

/** What holds for any formula, from its definition alone: it says what it is, its examples come out, its ranges are kept. */
export function formulaTable(modules: Modules): void {
  describe.each(formulasIn(modules).map((found) => [found.file, found] as const))('%s', (_file, found) => {
    const { formula } = found;
    // A definition that says nothing must fail a test, not the collection of them.
    const examples = (formula.examples ?? []).map((example, i) => [i, example] as const);
    const keys = Object.keys(formula.inputs ?? {});

    it('says what it is', () => checkDefinition(found));
    it.each(examples)('example %i', (_i, example) => checkExample(formula, example));
    it('answers at the middle and at every corner of its ranges with a finite number or a stated reason', () =>
      checkCorners(formula));
    it.each(keys)('outside the range of %s or NaN: outside validity, naming the input', (key) =>
      checkRange(formula, key),
    );
  });
}

function checkDefinition({ file, name, formula }: Found): void {
  expect(formula.id).toBe(file);
  expect(name).toBe(camelCase(file));
  expect(isQuantityKey(formula.output.quantity)).toBe(true);
  expect(formula.title).not.toBe('');
  expect(formula.output.help).not.toBe('');
  expect(formula.source.document).not.toBe('');
  const keys = Object.keys(formula.inputs);
  expect(keys).not.toEqual([]);
  for (const param of Object.values(formula.inputs)) {
    expect(isQuantityKey(param.quantity)).toBe(true);
    expect(param.range[0]).toBeLessThan(param.range[1]);
    expect(param.help).not.toBe('');
    if (param.fallback === undefined) continue;
    expect(param.fallback).toBeGreaterThanOrEqual(param.range[0]);
    expect(param.fallback).toBeLessThanOrEqual(param.range[1]);
  }
  expect(formula.examples).not.toEqual([]);
  for (const example of formula.examples) expect(Object.keys(example.inputs).sort()).toEqual([...keys].sort());
}

function checkExample(formula: Formula, example: Example<string>): void {
  const got = formula.evaluate(example.inputs);
  expect(got.known, JSON.stringify(got)).toBe(true);
  if (!got.known) return;
  expect(Math.abs(got.value - example.expected)).toBeLessThanOrEqual(example.tolerance * Math.abs(example.expected));
  expect(example.source.document).not.toBe('');
  expect(example.tolerance).toBeLessThanOrEqual(0.02);
}

function checkCorners(formula: Formula): void {
  const keys = Object.keys(formula.inputs);
  const check = (inputs: Readonly<Record<string, number>>) => {
    const got = formula.evaluate(inputs);
    if (got.known) expect(Number.isFinite(got.value), JSON.stringify(inputs)).toBe(true);
    // A corner may break a condition between inputs (wall thicker than the tube); it may not come out as a non-finite number.
    else if (got.why.reason === 'inconsistent') expect(got.why.detail).not.toContain('finite');
    else expect(got.why.reason).toBe('outOfValidity');
  };
  check(inputsOf(formula, ([low, high]) => (low + high) / 2));
  for (let corner = 0; corner < 2 ** keys.length; corner++)
    check(inputsOf(formula, ([low, high], i) => ((corner >> i) & 1 ? high : low)));
}

function checkRange(formula: Formula, key: string): void {
  const [example] = formula.examples;
  const param = formula.inputs[key];
  if (!param) throw new Error(`no input ${key}`);
  const { range, quantity } = param;
  const input = `${formula.id}: ${key}`;
  const step = 1e-6 * Math.max(Math.abs(range[0]), Math.abs(range[1]));
  for (const value of [range[0] - step, range[1] + step, Number.NaN, Number.POSITIVE_INFINITY]) {
    const got = formula.evaluate({ ...example.inputs, [key]: value });
    expect(got).toEqual({ known: false, why: { reason: 'outOfValidity', input, value, range, unit: quantity } });
  }
}
