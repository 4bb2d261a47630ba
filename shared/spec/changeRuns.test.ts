import { describe, expect, it } from 'vitest';
import { joinRuns } from './changeRuns.ts';

const change = (second: number | null, path: string, before: unknown, after: unknown, by = 'ann') => ({
  ...{ path, by, before, after },
  at: second === null ? null : new Date(Date.UTC(2026, 0, 1, 0, 0, second)).toISOString(),
});

describe('runs of changes', () => {
  it('of one field by one person become one, from the first value to the last', () => {
    const drag = [change(9, 'a', 2, 3), change(5, 'a', 1, 2), change(0, 'a', 0, 1)];
    expect(joinRuns(drag)).toEqual([change(9, 'a', 0, 3)]);
  });

  it('end at a pause, at another person, and where no time is known', () => {
    const pause = [change(20, 'a', 1, 2), change(9, 'a', 0, 1)];
    expect(joinRuns(pause)).toEqual(pause);
    const other = [change(3, 'a', 2, 3), change(2, 'a', 1, 2, 'ben'), change(1, 'a', 0, 1)];
    expect(joinRuns(other)).toEqual(other);
    const untimed = [change(null, 'a', 1, 2), change(null, 'a', 0, 1)];
    expect(joinRuns(untimed)).toEqual(untimed);
  });

  it('of several fields at once are joined field by field, in the place of the newest', () => {
    const both = [change(4, 'b', 6, 7), change(3, 'a', 1, 2), change(2, 'b', 5, 6), change(1, 'a', 0, 1)];
    expect(joinRuns(both)).toEqual([change(4, 'b', 5, 7), change(3, 'a', 0, 2)]);
  });

  it('that come back to where they began are none', () => {
    expect(joinRuns([change(2, 'a', { si: 1 }, { si: 0 }), change(1, 'a', { si: 0 }, { si: 1 })])).toEqual([]);
  });
});
