import { expect, it } from 'vitest';
import type { ChangeView } from '../../shared/protocol/revisions.ts';
import { changeGroups } from './changeRows.ts';

const change = (seq: number, path: string, from: string, to: string, by = 'Ann'): ChangeView => ({
  ...{ seq, path, title: path, from, to, by: { account: by.toLowerCase(), name: by } },
  at: new Date(Date.UTC(2026, 0, 1, 0, 0, seq)).toISOString(),
});

it('puts what came in one edit together and joins a drag', () => {
  const groups = changeGroups([
    change(9, 'x', '2 mm', '3 mm'),
    change(9, 'y', '5 mm', '6 mm'),
    change(8, 'x', '1 mm', '2 mm'),
    change(8, 'y', '4 mm', '5 mm'),
    change(7, 'name', 'empty', 'One', 'Ben'),
  ]);
  expect(groups.map(({ by, changes }) => [by, changes.map(({ path, from, to }) => `${path} ${from} ${to}`)])).toEqual([
    ['Ann', ['x 1 mm 3 mm', 'y 4 mm 6 mm']],
    ['Ben', ['name empty One']],
  ]);
});
