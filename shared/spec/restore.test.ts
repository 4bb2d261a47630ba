import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { seededRandom } from '../geometry/random.ts';
import { userOrigin } from './commands.ts';
import { SPEC_ROOT } from './reader.ts';
import { planRestore, restore } from './restore.ts';

/** The server takes frames up to this, bytes. */
const FRAME = 256 * 1024;

const contents = (doc: Y.Doc): Map<string, unknown> => new Map(doc.getMap<unknown>(SPEC_ROOT).entries());
const withoutTicks = (entries: ReadonlyMap<string, unknown>) =>
  new Map([...entries].filter(([path]) => !path.startsWith('ticks.')));

function filled(entries: ReadonlyMap<string, unknown>): Y.Doc {
  const doc = new Y.Doc();
  doc.transact(() => {
    for (const [path, value] of entries) doc.getMap<unknown>(SPEC_ROOT).set(path, value);
  });
  return doc;
}

/** Takes away, changes and adds some entries. */
function disturbed(seed: number): Map<string, unknown> {
  const random = seededRandom(seed);
  const entries = new Map<string, unknown>(baseEntries());
  for (const path of [...entries.keys()]) {
    const [fate, kind] = [random(), random()];
    if (fate < 0.2) entries.delete(path);
    else if (fate < 0.4) entries.set(path, kind < 0.5 ? random() : { si: random(), as: 'as typed' });
  }
  for (let i = 0; i < 20; i++) {
    entries.set(`runners.x${i}`, i);
    entries.set(`runners.x${i}.nodes.n1`, 1);
    entries.set(`runners.x${i}.nodes.n1.x`, random());
  }
  for (const item of ['route-agreed', 'other'])
    if (random() < 0.7) entries.set(`ticks.design.${item}`, { done: random() < 0.5, note: '', by: `a${seed}` });
  return entries;
}

describe('restoring', () => {
  it.each([1, 2, 3, 4, 5])('leaves exactly the entries of the earlier state, and its own ticks (seed %i)', (seed) => {
    const [now, wanted] = [disturbed(seed), disturbed(seed + 100)];
    const doc = filled(now);
    restore(doc, planRestore(doc.getMap(SPEC_ROOT), wanted), () => undefined);
    expect(withoutTicks(contents(doc))).toEqual(withoutTicks(wanted));
    for (const [path, value] of now) if (path.startsWith('ticks.')) expect(contents(doc).get(path)).toEqual(value);
    const ticks = [...contents(doc).keys()].filter((path) => path.startsWith('ticks.'));
    expect(ticks.every((path) => now.has(path))).toBe(true);
  });

  it('writes nothing where all is as it was', () => {
    const doc = filled(baseEntries());
    expect(planRestore(doc.getMap(SPEC_ROOT), baseEntries())).toEqual({ steps: [], writes: 0, strange: 0 });
  });

  it('is one step that undo takes back, and what others did meanwhile stays', () => {
    const [now, wanted] = [disturbed(7), disturbed(8)];
    const doc = filled(now);
    const undo = new Y.UndoManager(doc.getMap(SPEC_ROOT), { trackedOrigins: new Set([userOrigin]) });
    const plan = planRestore(doc.getMap(SPEC_ROOT), wanted);
    expect(plan.steps).toHaveLength(1);
    restore(doc, plan, () => undo.stopCapturing());
    doc.transact(() => doc.getMap(SPEC_ROOT).set('chains.later', 1), { kind: 'remote' });
    undo.undo();
    expect(contents(doc)).toEqual(new Map([...now, ['chains.later', 1]]));
  });

  it('keeps away what names nothing in a spec any more, and says how many', () => {
    const wanted = new Map<string, unknown>([...baseEntries(), ['nothing.of.the.kind', 1]]);
    const doc = filled(baseEntries());
    expect(planRestore(doc.getMap(SPEC_ROOT), wanted)).toEqual({ steps: [], writes: 0, strange: 1 });
  });

  it('of a huge state goes in steps that fit a frame, as do their undos; a row stays whole', () => {
    const text = 'x'.repeat(300);
    const wanted = new Map<string, unknown>();
    for (let i = 0; i < 1500; i++) {
      wanted.set(`holes.h${i}`, i);
      wanted.set(`holes.h${i}.name`, `${text} ${i}`);
    }
    const doc = filled(
      new Map([...wanted].map(([path, value]) => [path, typeof value === 'string' ? `${value}.` : 0])),
    );
    const plan = planRestore(doc.getMap(SPEC_ROOT), wanted);
    expect(plan.steps.length).toBeGreaterThan(4);
    for (const step of plan.steps) {
      const rows = step.map(({ path }) => path.split('.')[1]);
      for (const row of rows)
        expect(plan.steps.filter((s) => s.some((w) => w.path.split('.')[1] === row))).toHaveLength(1);
    }
    const sizes: number[] = [];
    doc.on('update', (update: Uint8Array) => sizes.push(update.length));
    const undo = new Y.UndoManager(doc.getMap(SPEC_ROOT), { trackedOrigins: new Set([userOrigin]) });
    restore(doc, plan, () => undo.stopCapturing());
    expect(sizes).toHaveLength(plan.steps.length);
    while (undo.undo());
    expect(sizes).toHaveLength(2 * plan.steps.length);
    expect(Math.max(...sizes)).toBeLessThan(FRAME);
  });
});
