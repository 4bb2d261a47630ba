import { expect, it } from 'vitest';
import { keepChip } from './keep.ts';

const base = { link: 'connected', unconfirmed: 0, unkept: 0, specSeq: 7, checkedSeq: 7 } as const;

it.each([
  ['everything judged', base, 'checked', 'CHECKED #7'],
  ['kept at the shop, rules still to run', { ...base, specSeq: 8 }, 'shop', 'KEPT AT SHOP #8'],
  ['on the wire', { ...base, unconfirmed: 2 }, 'sent', 'SENT 2'],
  ['offline and on disk here', { ...base, link: 'offline', unconfirmed: 3 }, 'here', 'KEPT HERE 3'],
  [
    'offline and not yet on disk here',
    { ...base, link: 'offline', unconfirmed: 3, unkept: 1 },
    'writing',
    'KEEPING HERE 1',
  ],
  ['link being looked for, an edit waiting', { ...base, link: 'connecting', unconfirmed: 1 }, 'here', 'KEPT HERE 1'],
  ['others went on after my last edit', { ...base, checkedSeq: 12 }, 'checked', 'CHECKED #12'],
] as const)('%s', (_, inputs, state, text) => {
  expect(keepChip(inputs)).toEqual({ state, text });
});
