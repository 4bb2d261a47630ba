import { expect, it } from 'vitest';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { readSpec } from '../spec/reader.ts';
import { storedWords } from './changeWords.ts';

const spec = readSpec(baseEntries());

it.each([
  ['tube.wall', { si: 0.002, as: '2 mm' }, '2.00 mm'],
  ['tube.wall', 0.00165, '1.65 mm'],
  ['tube.wall', undefined, 'empty'],
  ['tube.wall', 'thick', '"thick" (cannot be)'],
  ['tube.wall', { no: 1 }, 'an object (cannot be)'],
  ['engine.firingOrder', '1-3-4-2', '1-3-4-2'],
  ['runners.r1.name', 'Long one', 'Long one'],
  ['runners.r1', 1, 'there, place 1'],
  ['runners.r1', undefined, 'not there'],
  ['runners.r1.nodes.n1', undefined, 'not there'],
  ['ticks.design.route-agreed', { done: true, note: '', by: 'a' }, 'ticked'],
  ['ticks.design.route-agreed', { done: false, note: 'by phone', by: 'a' }, 'not ticked, note: by phone'],
  ['ticks.design.route-agreed', undefined, 'untouched'],
  ['ticks.design.route-agreed', 7, '7'],
  ['nothing.here', 7, '7'],
])('%s with %j reads %s', (path, stored, words) => {
  expect(storedWords(path, stored, spec)).toBe(words);
});
