import { describe, expect, it } from 'vitest';
import { seededRandom } from '../geometry/random.ts';
import { fromSi } from '../units/format.ts';
import { displayUnit, quantityRow } from '../units/quantities.ts';
import type { Field } from './field.ts';
import { collections, groups, tables } from './fields.ts';
import { exportSpec, type FileRead, importSpec, parseSpecText } from './file.ts';
import { fieldAt } from './path.ts';
import { readSpec } from './reader.ts';
import { checkTyped, storedNumber } from './validate.ts';

const head = { format: 'slipjoint-spec', version: 1 };

/** Paths of every field there can be: each group, two elements of each collection, three rows of each table in them. */
function everyField(): [string, Field][] {
  const out: [string, Field][] = [];
  const add = (prefix: string, rows: Readonly<Record<string, Field>>): void => {
    for (const [key, field] of Object.entries(rows)) out.push([`${prefix}.${key}`, field]);
  };
  for (const [key, rows] of Object.entries(groups)) add(key, rows);
  for (const [key, rows] of Object.entries(collections)) for (const id of ['b', 'a']) add(`${key}.${id}`, rows);
  for (const [prefix, fields] of everyTable()) for (const row of ['3', '1', 'x']) add(`${prefix}.${row}`, fields);
  return out;
}

function everyTable(): (readonly [string, Readonly<Record<string, Field>>])[] {
  return Object.entries(tables).flatMap(([branch, some]) =>
    Object.entries(some).flatMap(([table, fields]) =>
      ['b', 'a'].map((id) => [`${branch}.${id}.${table}`, fields] as const),
    ),
  );
}

function marks(): Map<string, number> {
  const out = new Map<string, number>();
  for (const key of Object.keys(collections)) out.set(`${key}.b`, 1).set(`${key}.a`, 2.5);
  for (const [prefix] of everyTable()) for (const [i, n] of ['3', '1', 'x'].entries()) out.set(`${prefix}.${n}`, i - 1);
  return out;
}

function someText(path: string, field: Field, random: () => number): string | number {
  if (field.kind === 'choice') return field.options[Math.floor(random() * field.options.length)] ?? '';
  if (field.kind === 'material') return [...field.options, 'b'][Math.floor(random() * 4)] ?? 'a';
  if (field.kind === 'number') return 100 * (random() - 0.5);
  if (field.kind === 'sequence') return '1-3-4-2';
  if (field.kind === 'integer') return field.min + Math.floor(random() * (field.max - field.min + 1));
  return `${path.split('.')[1]} "q" \u00e9`.slice(0, field.kind === 'text' ? field.maxLength : 9);
}

/** A quantity as a document may hold it: plain, on a bound, or typed in some unit. */
function someQuantity(field: Extract<Field, { kind: 'quantity' }>, random: () => number): unknown {
  const si = field.min + (field.max - field.min) * random();
  const dice = random();
  if (dice < 0.1) return random() < 0.5 ? field.min : field.max;
  if (dice < 0.5) return si;
  const { units } = quantityRow(field.quantity);
  const unit = units[Math.floor(random() * units.length)] ?? units[0];
  const typed = checkTyped(field, `${fromSi(si, unit).toPrecision(4)} ${unit.symbol === '1' ? '' : unit.symbol}`);
  return typed.ok ? typed.value : si;
}

function someDocument(random: () => number): Map<string, unknown> {
  const out = new Map<string, unknown>(marks());
  for (const [path, field] of everyField()) {
    if (random() < 0.05) continue;
    out.set(path, field.kind === 'quantity' ? someQuantity(field, random) : someText(path, field, random));
  }
  return out;
}

function entriesOf(read: FileRead): ReadonlyMap<string, unknown> {
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.entries;
}

const plain = (value: unknown): unknown => storedNumber(value) ?? value;

describe('round trip', () => {
  it.each([1, 2, 3, 4, 5, 6, 7, 8])('seed %d: export, JSON, import gives the same SI numbers, bit for bit', (seed) => {
    const document = someDocument(seededRandom(seed));
    const text = JSON.stringify(exportSpec(document), null, 2);
    const back = entriesOf(parseSpecText(text));
    expect([...back.keys()].sort()).toEqual([...document.keys()].sort());
    for (const [path, value] of document) expect([path, back.get(path)]).toEqual([path, plain(value)]);
    expect(readSpec(back)).toEqual(readSpec(document));
    expect(JSON.stringify(exportSpec(back), null, 2)).toBe(text);
    expect(document.size).toBeGreaterThan(80);
  });

  it('seed 9: numbers of any size within bounds survive, also as text', () => {
    const random = seededRandom(9);
    for (const [path, field] of everyField()) {
      if (field.kind !== 'quantity') continue;
      const around = [...marks()].filter(([mark]) => path.startsWith(`${mark}.`));
      for (let i = 0; i < 50; i++) {
        const value = Math.max(field.min, field.max * random() ** 6);
        const document = new Map<string, unknown>([...around, [path, value]]);
        expect(entriesOf(importSpec(JSON.parse(JSON.stringify(exportSpec(document))))).get(path)).toBe(value);
      }
    }
  });

  it('writes a number as a person would', () => {
    const document = new Map<string, unknown>([
      ['tube.outsideDiameter', { si: 0.04445, as: '1-3/4 in' }],
      ['tube.wallTemperature', 973.15],
      ['engine.lambda', 0.85],
      ['engine.cylinders', 4],
      ['turbo.unsupportedShare', 0.5],
    ]);
    expect(exportSpec(document)).toMatchObject({
      ...head,
      tube: { outsideDiameter: '44.45 mm', wallTemperature: '700 C' },
      engine: { lambda: 0.85, cylinders: 4 },
      turbo: { unsupportedShare: '50 %' },
    });
  });

  it('orders, ids and empty elements survive; minus zero becomes zero', () => {
    const document = new Map<string, unknown>([
      ['holes.10', 1],
      ['holes.9', 2],
      ['holes.a', -3.5],
      ['runners.r', -0],
      ['runners.r.nodes.n', -0],
      ['runners.r.nodes.n.x', -0],
    ]);
    const back = entriesOf(parseSpecText(JSON.stringify(exportSpec(document))));
    expect(readSpec(back)).toEqual(readSpec(document));
    expect(Object.is(back.get('runners.r.nodes.n.x'), 0)).toBe(true);
  });

  it('what reads as missing is left out, so that a document with garbage still makes a file that loads', () => {
    const document = new Map<string, unknown>([
      ['tube.wall', Number.NaN],
      ['tube.alloy', 'wood'],
      ['tube.outsideDiameter', 99],
      ['engine.rock', 10n],
      ['engine.lambda', 0.9],
      ['engine.cylinders', null],
      ['engine.firingOrder', '1-x'],
      ['runners.r1.name', 'orphan'],
      ['holes.s1', 'no number'],
      ['holes.s2', undefined],
      ['nonsense', 1],
      ['ticks.design.a', { done: true, note: '', by: 'x' }],
    ]);
    const back = entriesOf(parseSpecText(JSON.stringify(exportSpec(document))));
    expect([...back]).toEqual([
      ['engine.lambda', 0.9],
      ['holes.s1', 0],
    ]);
    expect(readSpec(back).engine).toEqual(readSpec(document).engine);
  });

  it('text with a unit, numbers in SI and fractions are all taken; an element without order stands where it is', () => {
    const read = entriesOf(
      importSpec({
        ...head,
        tube: { wall: 0.002, outsideDiameter: '1-3/4 in', wallTemperature: '1200 F', roughness: '45 µm' },
        engine: { lambda: '0.85' },
        holes: { b: { name: 'B' }, a: { name: 'A', order: 0 } },
      }),
    );
    expect(read.get('tube.outsideDiameter')).toBeCloseTo(0.04445, 15);
    expect(read.get('engine.lambda')).toBe(0.85);
    expect(readSpec(read).holes.map((h) => h.name)).toEqual(['A', 'B']);
  });

  it('a byte order mark before the text is no part of it', () => {
    expect(parseSpecText(`\ufeff${JSON.stringify(head)}`)).toEqual({ ok: true, entries: new Map() });
  });
});

describe('fields', () => {
  it('every bare quantity of every field asks for its unit', () => {
    for (const [path, field] of everyField()) {
      if (field.kind !== 'quantity' || displayUnit(field.quantity).symbol === '1') continue;
      const [branch = '', ...rest] = path.split('.');
      const content = { ...head, [branch]: rest.reduceRight<unknown>((inner, key) => ({ [key]: inner }), '1') };
      const read = importSpec(content);
      expect(read.ok ? path : read.problems.map((p) => p.path)).toEqual([path]);
      expect(fieldAt(path)).toBe(field);
    }
  });
});
