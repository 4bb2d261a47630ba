import { expect, it } from 'vitest';
import * as Y from 'yjs';
import { replaceAll, setTick } from './commands.ts';
import { coveredFacts, pathWords } from './covered.ts';
import { createSpecReader, readSpec, SPEC_ROOT } from './reader.ts';
import { checkTick, photoLimit } from './validate.ts';

const [one, two] = ['a'.repeat(64), 'b'.repeat(64)];
const tick = { done: true, note: '', by: 'ann' };
const many = Array.from({ length: photoLimit + 1 }, (_, i) => i.toString(16).padStart(64, '0'));

it.each<readonly [string, unknown, unknown]>([
  ['without photos', tick, tick],
  ['with photos in their order', { ...tick, photos: [two, one] }, { ...tick, photos: [two, one] }],
  ['with an empty list, which is none', { ...tick, photos: [] }, tick],
  ['with as many as there may be', { ...tick, photos: many.slice(1) }, { ...tick, photos: many.slice(1) }],
  ['with one too many', { ...tick, photos: many }, null],
  ['with one twice', { ...tick, photos: [one, one] }, null],
  ['with what is no hash', { ...tick, photos: ['A'.repeat(64)] }, null],
  ['with what is no text', { ...tick, photos: [1] }, null],
  ['with what is no list', { ...tick, photos: one }, null],
])('reads a tick %s', (_, stored, read) => expect(checkTick(stored)).toEqual(read));

it('a photo is a fact of its gate, also of an item that is not ticked, and has words', () => {
  const spec = readSpec(new Map([['ticks.weld.root-seen', { ...tick, done: false, photos: [two, one] }]]));
  expect(coveredFacts(spec, [], 'weld')).toEqual({
    'ticks.weld.root-seen.done': false,
    'ticks.weld.root-seen.note': '',
    'ticks.weld.root-seen.photos': `${two} ${one}`,
  });
  expect(pathWords('ticks.weld.root-seen.photos', spec)).toBe('checklist weld: root-seen, photos');
  expect(coveredFacts(spec, [], 'scan')).toEqual({});
});

it('a photo more or less is another spec, the same photos are the same one', () => {
  const doc = new Y.Doc();
  const reader = createSpecReader(doc);
  const read = (photos: readonly string[]) => {
    setTick(doc, 'weld', 'root-seen', { ...tick, photos });
    return reader.current().ticks;
  };
  const first = read([one]);
  expect(read([one])).toBe(first);
  expect(read([one, two])).not.toBe(first);
});

it('replacing the content writes a tick only when it is another one', () => {
  const doc = new Y.Doc();
  setTick(doc, 'weld', 'root-seen', { ...tick, photos: [one] });
  let writes = 0;
  doc.on('update', () => {
    writes += 1;
  });
  const put = (photos: readonly string[]) =>
    replaceAll(doc, new Map([['ticks.weld.root-seen', { ...tick, photos: [...photos] }]]));
  put([one]);
  expect(writes).toBe(0);
  put([one, two]);
  expect(writes).toBe(1);
  expect(doc.getMap(SPEC_ROOT).get('ticks.weld.root-seen')).toMatchObject({ photos: [one, two] });
});
