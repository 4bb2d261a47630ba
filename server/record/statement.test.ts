import { expect, it } from 'vitest';
import { filesOf } from './statement.ts';

it('names photos of checklist items, each once', () => {
  const [one, two] = ['2'.repeat(64), '0'.repeat(64)];
  const facts = {
    'ticks.weld.root-seen.photos': `${one} ${two}`,
    'ticks.weld.cleaned.photos': one,
    'ticks.weld.cleaned.note': one,
  };
  expect(filesOf(facts, new Map([[two, 'root.jpg']]))).toEqual([
    { sha256: two, name: 'root.jpg' },
    { sha256: one, name: 'ticks.weld.cleaned.photo' },
  ]);
});

it('names the files of scans and parts that a signature covers, in order', () => {
  const facts = {
    'pieces.a.mesh': 'f'.repeat(64),
    'components.b.scan': '1'.repeat(64),
    'components.b.scanUnit': 'mm',
    'pieces.a.meshUnit': 'mm',
    'tube.wall': 0.002,
  };
  expect(filesOf(facts, new Map([['f'.repeat(64), 'runner.stl']]))).toEqual([
    { sha256: '1'.repeat(64), name: 'components.b.scan' },
    { sha256: 'f'.repeat(64), name: 'runner.stl' },
  ]);
});
