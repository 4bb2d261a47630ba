import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { fromSi } from '../units/format.ts';
import { quantityRow } from '../units/quantities.ts';
import type { Field } from './field.ts';
import { integer, quantity, sequence, text } from './field.ts';
import { collections, groups, nodeFields, tables } from './fields.ts';
import { checkStored, checkTick, checkTyped, describeValue, storedNumber, typedText } from './validate.ts';

const wall = quantity('length', 'Wall', [0.0005, 0.008], 'h');
const count = integer('Cylinders', [1, 16], 'h');
const firing = sequence('Firing order', [1, 16], 4, 'h');
const { alloy } = groups.tube;
const ends = groups.flange.spanEnds;
const name = text('Name', 5, 'h');
const allFields: readonly Field[] = [
  ...Object.values(groups),
  ...Object.values(collections),
  ...Object.values(tables).flatMap((t) => Object.values(t)),
].flatMap((rows) => Object.values(rows));

describe('checkStored', () => {
  it.each<readonly [string, Field, unknown, unknown]>([
    ['a number', wall, 0.002, 0.002],
    ['the lower bound', wall, 0.0005, 0.0005],
    ['the upper bound', wall, 0.008, 0.008],
    ['a typed number', wall, { si: 0.002, as: '2 mm' }, 0.002],
    ['a whole number', count, 4, 4],
    ['a choice', ends, 'cut', 'cut'],
    ['a listed metal', alloy, '625', '625'],
    ['what may be the id of an own material', alloy, 'batch-7', 'batch-7'],
    ['a plain number of any size', collections.limits.most, -1e300, -1e300],
    ['a plain number with its text', collections.limits.most, { si: 0.1, as: '10 %' }, 0.1],
    ['text', name, 'abcde', 'abcde'],
    ['a sequence', firing, '1-3-4-2', [1, 3, 4, 2]],
    ['a sequence with commas', firing, ' 1, 3 , 4;2 ', [1, 3, 4, 2]],
    ['a sequence with spaces', firing, '1 3 4 2', [1, 3, 4, 2]],
    ['one number', firing, '1', [1]],
  ])('takes %s', (_, field, value, expected) => {
    expect(checkStored(field, value)).toEqual({ ok: true, value: expected });
  });

  it.each<readonly [string, Field, unknown, RegExp]>([
    ['nothing', wall, undefined, /expected a number, got nothing/],
    ['null', wall, null, /got null/],
    ['text', wall, '2 mm', /expected a number, got "2 mm"/],
    ['a list', wall, [1, 2], /got a list of 2/],
    ['an object', wall, { si: '1' }, /got an object/],
    ['a big integer', wall, 10n, /got 10/],
    ['a document type', wall, new Y.Map(), /got an object/],
    ['bytes', wall, new Uint8Array(3), /got an object/],
    ['a boolean', wall, true, /got true/],
    ['NaN', wall, Number.NaN, /expected a finite number, got NaN/],
    ['a typed NaN', wall, { si: Number.NaN, as: 'x' }, /finite/],
    ['infinity', wall, Number.POSITIVE_INFINITY, /finite/],
    ['too much', wall, 0.00801, /expected 0\.50 mm to 8\.00 mm, got 8\.01 mm/],
    ['too little', wall, 0.0001, /got 0\.10 mm/],
    ['just beyond a bound, in enough digits', wall, 0.0080001, /to 8\.00 mm, got 8\.0001/],
    ['a broken number', count, 1.5, /expected a whole number, got 1\.5/],
    ['too many', count, 17, /expected 1 to 16, got 17/],
    ['an unknown choice', ends, 'sawn', /expected one of continuous, cut, got "sawn"/],
    ['a number for a choice', ends, 625, /expected text, got 625/],
    ['an inherited name', ends, 'toString', /expected one of/],
    [
      'no id of a material',
      alloy,
      'Alloy 9',
      /expected one of 625, 321, 304 or the id of an own material, got "Alloy 9"/,
    ],
    ['a number for a material', alloy, 625, /expected text, got 625/],
    ['text for a plain number', collections.limits.most, '12 %', /expected a plain number, got "12 %"/],
    ['an endless number', collections.limits.most, Number.POSITIVE_INFINITY, /expected a finite number, got Infinity/],
    ['empty text', name, '', /got nothing/],
    ['blank text', name, ' \t ', /got nothing/],
    ['long text', name, 'abcdef', /expected at most 5 characters, got 6/],
    ['an empty sequence', firing, '', /whole numbers from 1 to 16/],
    ['a sequence beyond its bounds', firing, '1-17', /whole numbers/],
    ['a sequence with a gap', firing, '1--2', /whole numbers/],
    ['a trailing dash', firing, '1-2-', /whole numbers/],
    ['a hexadecimal number', firing, '0x1-2', /whole numbers/],
    ['an exponent', firing, '1e0-2', /whole numbers/],
    ['a decimal', firing, '1.0-2', /whole numbers/],
    ['words', firing, 'one-two', /whole numbers/],
    ['too long a sequence', firing, '1-2-3-4-5', /expected at most 4 numbers, got 5/],
    ['a very long text', firing, '1-'.repeat(1e5), /whole numbers/],
  ])('refuses %s', (_, field, value, error) => {
    const checked = checkStored(field, value);
    expect(checked.ok ? checked.value : checked.error).toMatch(error);
  });

  it('a sequence that allows 0 does not read a gap as 0', () => {
    expect(checkStored(sequence('S', [0, 9], 9, 'h'), '1--2').ok).toBe(false);
  });

  it('minus zero reads as zero', () => {
    const checked = checkStored(nodeFields.x, -0);
    expect(checked.ok && Object.is(checked.value, 0)).toBe(true);
  });
});

describe('checkTyped', () => {
  it.each<readonly [string, Field, unknown]>([
    ['2 mm', wall, { si: 0.002, as: '2 mm' }],
    [' 1,65 mm ', wall, { si: 1.65e-3, as: '1,65 mm' }],
    ['2', wall, { si: 0.002, as: '2' }],
    ['4', count, 4],
    ['+4', count, 4],
    ['625', alloy, '625'],
    [' abc ', name, 'abc'],
    ['1-2', firing, '1-2'],
  ])('%j', (typed, field, value) => {
    expect(checkTyped(field, typed)).toEqual({ ok: true, value });
  });

  it.each<readonly [string, Field, RegExp]>([
    ['', wall, /got nothing/],
    ['1,234 mm', wall, /two ways/],
    ['2 kg', wall, /got "kg"/],
    ['9 mm', wall, /to 8\.00 mm, got 9\.00 mm/],
    ['4.0', count, /expected a whole number, got "4\.0"/],
    ['4 ', count, /^$/],
    ['four', count, /whole number/],
    ['1e1', count, /whole number/],
    ['99', count, /expected 1 to 16/],
    ['', name, /got nothing/],
    ['', firing, /whole numbers/],
  ])('%j', (typed, field, error) => {
    const checked = checkTyped(field, typed);
    expect(checked.ok ? '' : checked.error).toMatch(error);
  });

  it('a text longer than 40 characters is not kept cut: the number stands alone', () => {
    expect(checkTyped(wall, `2.${'0'.repeat(60)} mm`)).toEqual({ ok: true, value: 0.002 });
  });

  it('every bound typed in any unit of its quantity is taken', () => {
    let tried = 0;
    for (const field of allFields) {
      if (field.kind !== 'quantity') continue;
      for (const unit of quantityRow(field.quantity).units) {
        if (unit.symbol === '1' && quantityRow(field.quantity).units.length > 1) continue;
        for (const bound of [field.min, field.max]) {
          const typed = `${fromSi(bound, unit)} ${unit.symbol === '1' ? '' : unit.symbol}`;
          const checked = checkTyped(field, typed);
          expect(checked.ok ? '' : `${field.label} ${typed}: ${checked.error}`).toBe('');
          tried += 1;
        }
      }
    }
    expect(tried).toBeGreaterThan(200);
  });
});

describe('parts of stored values', () => {
  it('number and text', () => {
    expect(storedNumber({ si: 1, as: 'x' })).toBe(1);
    expect(storedNumber({ si: '1' })).toBeNull();
    expect(storedNumber('1')).toBeNull();
    expect(typedText({ si: 1, as: '1 m' })).toBe('1 m');
    expect(typedText({ si: 1, as: 5 })).toBeNull();
    expect(typedText(1)).toBeNull();
  });

  it('ticks', () => {
    const tick = { done: true, note: 'n', by: 'a' };
    expect(checkTick({ ...tick, extra: 1 })).toEqual(tick);
    for (const bad of [null, 1, 'x', [], {}, { ...tick, done: 1 }, { ...tick, note: null }, { ...tick, by: 1 }, 10n])
      expect(checkTick(bad)).toBeNull();
  });

  it('describeValue is short and total', () => {
    const deep: unknown = JSON.parse(`${'['.repeat(10_000)}${']'.repeat(10_000)}`);
    for (const value of [deep, 'x'.repeat(1e6), new Array(1e6), Symbol('s'), 10n, () => 1, new Y.Doc(), Number.NaN])
      expect(describeValue(value).length).toBeLessThan(100);
  });
});
