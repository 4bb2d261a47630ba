import { expect, it } from 'vitest';
import { problemText } from './problemText.ts';

it.each([
  [{ detail: 'nothing was uploaded', came: '0 bytes' }, 'Nothing was uploaded. Got 0 bytes.'],
  [{ detail: 'The part is open.', expected: 'closed parts' }, 'The part is open. Expected closed parts.'],
  [{ detail: '' }, 'Not found.'],
])('%j', (problem, text) => {
  expect(problemText({ code: 'not-found', title: 'Not found', ...problem })).toBe(text);
});
