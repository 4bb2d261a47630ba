import { expect, it } from 'vitest';
import { mentioned } from './mentions.ts';

const people = [
  { id: 'a', login: 'weld', name: 'Shop welder' },
  { id: 'b', login: 'weld.two', name: 'Shop' },
  { id: 'c', login: 'émile', name: 'Émile' },
];

it.each([
  ['@weld look here', ['a']],
  ['@WELD, look', ['a']],
  ['look, @weld.', ['a']],
  ['@weld.two please', ['b']],
  ['@Shop welder and @shop', ['a', 'b']],
  ['@welder', []],
  ['mail me at x@weld', []],
  ['@weld@shop.example', []],
  ['(@weld)(@weld.two)', ['a', 'b']],
  ['@e\u0301mile', ['c']],
  ['@', []],
  ['no name', []],
])('%j names %j', (text, ids) => {
  expect(mentioned(text, people).map(({ id }) => id)).toEqual(ids);
});
