import { expect, test } from 'vitest';
import { collectWhenIdle, type IdleCollection } from './collectWhenIdle.ts';

const MB = 1024 * 1024;

function desk(youngBytes: number) {
  const timers = new Set<() => void>();
  let collected = 0;
  const parts: IdleCollection = {
    collect: () => {
      collected += 1;
    },
    youngBytes: () => youngBytes,
    after: (_, run) => {
      timers.add(run);
      return () => void timers.delete(run);
    },
  };
  const rest = (): void => {
    for (const run of [...timers]) run();
    timers.clear();
  };
  return { parts, timers, rest, collected: () => collected };
}

test('memory is tidied once after a row of answers, when nothing comes any more', () => {
  const { parts, timers, rest, collected } = desk(20 * MB);
  const answered = collectWhenIdle(parts);
  for (let i = 0; i < 3; i++) answered();
  expect(timers.size).toBe(1);
  expect(collected()).toBe(0);
  rest();
  expect(collected()).toBe(1);
  answered();
  rest();
  expect(collected()).toBe(2);
});

test('little to clear away is left', () => {
  const { parts, rest, collected } = desk(1 * MB);
  collectWhenIdle(parts)();
  rest();
  expect(collected()).toBe(0);
});

test('without leave of the process no timer runs', () => {
  const { parts, timers } = desk(20 * MB);
  collectWhenIdle({ ...parts, collect: undefined })();
  expect(timers.size).toBe(0);
});
