import { expect, it } from 'vitest';
import { errors, isErrorCode, problem, problemSchema } from './errors.ts';

const codes = Object.keys(errors).filter(isErrorCode);

it.each(codes)('%s makes a problem that reads back, with an error status', (code) => {
  const made = problem(code, { detail: 'd', expected: 'e', came: 'c' });
  expect(problemSchema.parse(JSON.parse(JSON.stringify(made)))).toEqual(made);
  expect(made).toEqual({ code, title: errors[code].title, detail: 'd', expected: 'e', came: 'c' });
  expect(errors[code].status).toBeGreaterThanOrEqual(400);
  expect(errors[code].status).toBeLessThan(600);
});

it('has different words for different codes', () => {
  expect(new Set(codes.map((code) => errors[code].title)).size).toBe(codes.length);
});

it('leaves out what is not known', () => {
  expect(Object.keys(problem('internal', { detail: 'd' }))).toEqual(['code', 'title', 'detail']);
});

it.each(['nothing', 'toString', '__proto__', ''])('knows that %j is no code', (text) => {
  expect(isErrorCode(text)).toBe(false);
  expect(problemSchema.safeParse({ code: text, title: 't', detail: 'd' }).success).toBe(false);
});
