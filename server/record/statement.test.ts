import { expect, it } from 'vitest';
import { filesOf } from './statement.ts';

it('names the files of scans and parts that a signature covers, in order', () => {
  const facts = {
    'pieces.a.mesh': 'f'.repeat(64),
    'components.b.scan': '1'.repeat(64),
    'components.b.scanUnit': 'mm',
    'pieces.a.meshUnit': 'mm',
    'tube.wall': 0.002,
  };
  expect(filesOf(facts)).toEqual(['1'.repeat(64), 'f'.repeat(64)]);
});
