import { describe, expect, it } from 'vitest';
import { csvText, tableRows } from './csv.ts';

const one = (value: string | number | boolean | null): string =>
  csvText({ columns: ['a', 'b'], rows: [[value, 'end']] })
    .slice(1)
    .split('\r\n')
    .slice(1)
    .join('\r\n');

describe('CSV', () => {
  it.each([
    ['a formula', '=1+2', "'=1+2"],
    ['a plus', '+44', "'+44"],
    ['a minus in text', '-cmd', "'-cmd"],
    ['an at', '@sum', "'@sum"],
    ['a tab', '\tx', "'\tx"],
    ['a carriage return', '\rx', '"\'\rx"'],
    ['a negative number', -0.5, '-0.5'],
    ['a small number', 1e-9, '1e-9'],
    ['yes', true, 'true'],
    ['nothing', null, ''],
    ['a comma', 'a,b', '"a,b"'],
    ['quotes', 'say "x"', '"say ""x"""'],
    ['two lines', 'a\nb', '"a\nb"'],
    ['a formula with a comma', '=A1,B1', '"\'=A1,B1"'],
    ['right to left', 'שלום', 'שלום'],
    ['a picture', '🏁', '🏁'],
  ])('%s', (_, value, cell) => expect(one(value)).toBe(`${cell},end\r\n`));

  it('begins with a byte-order mark and its columns', () => {
    expect(csvText({ columns: ['one', 'two'], rows: [] })).toBe('\ufeffone,two\r\n');
  });
});

it('gives the same rows as objects', () => {
  expect(tableRows({ columns: ['a', 'b'], rows: [['=x', 1], [null]] })).toEqual([
    { a: '=x', b: 1 },
    { a: null, b: null },
  ]);
});
