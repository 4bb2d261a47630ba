import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { type Random, seededRandom } from '../../shared/geometry/random.ts';
import { type MemoryJournal, memoryJournal } from '../../tests/support/memory-journal.ts';
import type { KeptChange } from '../storage/changes.ts';
import { Intake } from '../sync/intake.ts';
import { ChangeKeeper } from './changeKeeper.ts';

const all = { project: 'p', after: { seq: 0, n: 0 }, limit: 100_000 } as const;

function keeperOn(journal: MemoryJournal, warnings: string[] = []): ChangeKeeper {
  return new ChangeKeeper({ project: 'p', changes: journal.changes, warn: (event) => warnings.push(event) });
}

/** A document as the server takes edits into it, with its keeper. */
async function desk(journal: MemoryJournal, warnings: string[] = []) {
  const keeper = keeperOn(journal, warnings);
  const { updates, seq } = await journal.load('p', 'spec');
  const live = new Y.Doc({ gc: true });
  for (const update of updates) Y.applyUpdate(live, update);
  await keeper.reach(seq);
  const intake = new Intake(live, {
    policy: { root: 'spec', allow: () => null },
    owners: { owner: () => undefined, claim: async () => undefined },
    append: (update, account) => journal.append('p', 'spec', update, account),
    applied: () => undefined,
    wrote: (at, changes) => keeper.wrote(at, changes),
    seq,
  });
  return { live, keeper, intake };
}

interface Author {
  readonly account: string;
  readonly doc: Y.Doc;
}

const values = [0.002, 0.003, { si: 0.03, as: '30 mm' }, 'text', undefined];
const paths = ['tube.wall', 'tube.alloy', 'runners.r1', 'runners.r1.name', 'ticks.design.route-agreed'];

/** One author changes some entries at once; undefined when that changes nothing. */
function edit({ doc }: Author, random: Random): Uint8Array | undefined {
  let update: Uint8Array | undefined;
  const listen = (bytes: Uint8Array) => {
    update = bytes;
  };
  doc.on('update', listen);
  doc.transact(() => {
    const map = doc.getMap<unknown>('spec');
    for (let i = 0; i <= 2 * random(); i++) {
      const path = paths[Math.floor(random() * paths.length)] ?? '';
      const value = values[Math.floor(random() * values.length)];
      if (value === undefined) map.delete(path);
      else map.set(path, value);
    }
  });
  doc.off('update', listen);
  return update;
}

/** Two people edit, now and then without having seen what the other did. */
async function work(seed: number, journal: MemoryJournal, edits = 150) {
  const random = seededRandom(seed);
  const { intake, keeper, live } = await desk(journal);
  const authors: Author[] = ['ann', 'ben'].map((account) => ({ account, doc: new Y.Doc() }));
  const sent: Promise<unknown>[] = [];
  for (let i = 0; i < edits; i++) {
    const author = authors[Math.floor(random() * authors.length)];
    if (!author) continue;
    if (random() < 0.3) {
      await Promise.all(sent.splice(0));
      Y.applyUpdate(author.doc, Y.encodeStateAsUpdate(live));
    }
    const update = edit(author, random);
    if (update) sent.push(intake.take(update, { account: author.account, from: author, canWrite: true }));
    if (random() < 0.1) await keeper.settled();
  }
  await Promise.all(sent);
  return { keeper, live };
}

/** The same entries in a journal that nobody has told of yet. */
async function copied(journal: MemoryJournal, accounts: readonly KeptChange[]): Promise<MemoryJournal> {
  const copy = memoryJournal();
  const by = new Map(accounts.map(({ seq, account }) => [seq, account]));
  for (const { seq, body } of await journal.changes.entries('p'))
    await copy.append('p', 'spec', body, by.get(seq) ?? 'ann');
  return copy;
}

/** What a list of changes comes to. */
function replayed(changes: readonly KeptChange[]): Map<string, unknown> {
  const out = new Map<string, unknown>();
  for (const { path, before, after } of changes) {
    expect(out.get(path), path).toEqual(before);
    if (after === undefined) out.delete(path);
    else out.set(path, after);
  }
  return out;
}

describe('the changes of a spec', () => {
  it.each([1, 2, 3, 4])('lead, one after the other, to what the document holds (seed %i)', async (seed) => {
    const { keeper, live } = await work(seed, memoryJournal());
    const changes = await keeper.of(all);
    expect(changes.length).toBeGreaterThan(50);
    expect(replayed(changes)).toEqual(new Map(live.getMap<unknown>('spec').entries()));
  });

  it.each([5, 6])('are the same when told live and when read from the journal later (seed %i)', async (seed) => {
    const journal = memoryJournal();
    const { keeper } = await work(seed, journal);
    const live = await keeper.of(all);
    const copy = await copied(journal, live);
    const later = keeperOn(copy);
    await later.reach(await copy.head('p'));
    expect(await later.of(all)).toEqual(live);
  });

  it('are neither lost nor doubled by a crash between an edit and its telling', async () => {
    const journal = memoryJournal();
    const first = await desk(journal);
    const ann = { account: 'ann', doc: new Y.Doc() };
    const write = async (d: typeof first, path: string, value: unknown) => {
      const before = Y.encodeStateVector(ann.doc);
      ann.doc.getMap('spec').set(path, value);
      const update = Y.encodeStateAsUpdate(ann.doc, before);
      expect(await d.intake.take(update, { account: 'ann', from: ann, canWrite: true })).toBeTypeOf('number');
    };
    await write(first, 'tube.wall', 1);
    await first.keeper.settled();
    await write(first, 'tube.wall', 2);
    await write(first, 'tube.alloy', '625');
    // The process ends here: nothing told of the last two.
    expect(await journal.changes.told('p')).toBe(1);
    const second = await desk(journal);
    await write(second, 'tube.wall', 3);
    expect((await second.keeper.of(all)).map(({ seq, path, after }) => [seq, path, after])).toEqual([
      [1, 'tube.wall', 1],
      [2, 'tube.wall', 2],
      [3, 'tube.alloy', '625'],
      [4, 'tube.wall', 3],
    ]);
    // The first one was not dead after all.
    await first.keeper.settled();
    expect(await second.keeper.of(all)).toHaveLength(4);
  });

  it('of a disk that was full for a while are told once it takes writes again', async () => {
    const journal = memoryJournal();
    const warnings: string[] = [];
    const { keep } = journal.changes;
    let full = true;
    Object.assign(journal.changes, {
      keep: (...told: Parameters<typeof keep>) => (full ? Promise.reject(new Error('full')) : keep(...told)),
    });
    const { keeper, intake } = await desk(journal, warnings);
    const ann = { account: 'ann', doc: new Y.Doc() };
    const update = edit(ann, seededRandom(3));
    if (!update) throw new Error('nothing was edited');
    expect(await intake.take(update, { account: 'ann', from: ann, canWrite: true })).toBe(1);
    expect(await keeper.of(all)).toEqual([]);
    expect([warnings, keeper.complete]).toEqual([['changes-not-kept'], false]);
    full = false;
    expect((await keeper.of(all)).length).toBeGreaterThan(0);
    expect(keeper.complete).toBe(true);
  });

  it('begin after a snapshot that was made before changes were kept: it says not who wrote what', async () => {
    const journal = memoryJournal();
    const doc = new Y.Doc();
    doc.getMap('spec').set('tube.wall', 1);
    await journal.append('p', 'spec', Y.encodeStateAsUpdate(doc), 'ann');
    await journal.replaceWithSnapshot('p', 'spec', Y.encodeStateAsUpdate(doc), 1);
    const before = Y.encodeStateVector(doc);
    doc.getMap('spec').set('tube.wall', 2);
    await journal.append('p', 'spec', Y.encodeStateAsUpdate(doc, before), 'ben');
    const keeper = keeperOn(journal);
    await keeper.reach(2);
    expect(await keeper.of(all)).toMatchObject([{ seq: 2, account: 'ben', before: 1, after: 2 }]);
  });

  it('of an entry that wrote what was there are none', async () => {
    const journal = memoryJournal();
    const doc = new Y.Doc();
    const sent: Uint8Array[] = [];
    doc.on('update', (update: Uint8Array) => sent.push(update));
    doc.getMap('spec').set('tube.wall', 1);
    doc.getMap('spec').set('tube.wall', 1);
    for (const update of sent) await journal.append('p', 'spec', update, 'ann');
    const keeper = keeperOn(journal);
    await keeper.reach(2);
    expect(await keeper.of(all)).toHaveLength(1);
    expect(await journal.changes.told('p')).toBe(2);
  });
});
