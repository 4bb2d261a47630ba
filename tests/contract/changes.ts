import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { FieldChange } from '../../server/storage/changes.ts';
import type { Journal } from '../../server/storage/ports.ts';
import type { JournalUnderTest } from './journal.ts';

const change = (seq: number, path: string, before: unknown, after: unknown): FieldChange => ({
  ...{ seq, path, before, after },
});

async function write(journal: Journal, count: number, project = 'p'): Promise<void> {
  for (let i = 0; i < count; i++) await journal.append(project, 'spec', Uint8Array.of(i), i % 2 ? 'b' : 'a');
}

/** What every journal promises about the changes kept beside it. */
export function changesContract(name: string, make: () => Promise<JournalUnderTest>): void {
  describe(`changes: ${name}`, () => {
    let under: JournalUnderTest;
    beforeEach(async () => {
      under = await make();
    });
    afterEach(() => under.dispose());
    keeping(() => under);
    asking(() => under);
  });
}

function keeping(get: () => JournalUnderTest): void {
  it('has none at first', async () => {
    const { changes } = get().journal;
    expect(await changes.told('p')).toBe(0);
    expect(await changes.of({ project: 'p', limit: 10 })).toEqual([]);
    expect(await changes.entries('p')).toEqual([]);
  });

  it('gives each with the account of its entry, newest first, absent values as absent', async () => {
    const { journal } = get();
    await write(journal, 2);
    const two = [change(1, 'tube.wall', undefined, { si: 0.002, as: '2 mm' }), change(2, 'tube.wall', 1, undefined)];
    expect(await journal.changes.keep({ project: 'p', from: 0, upTo: 2, changes: two })).toBe('kept');
    const found = await journal.changes.of({ project: 'p', limit: 10 });
    expect(found).toMatchObject([
      { seq: 2, n: 0, path: 'tube.wall', account: 'b', before: 1 },
      { seq: 1, n: 0, path: 'tube.wall', account: 'a', after: { si: 0.002, as: '2 mm' } },
    ]);
    expect([found[0]?.after, found[1]?.before]).toEqual([undefined, undefined]);
    expect(await journal.changes.told('p')).toBe(2);
  });

  it('keeps nothing that does not follow on what is kept', async () => {
    const { changes } = get().journal;
    await write(get().journal, 2);
    const one = { project: 'p', from: 0, upTo: 1, changes: [change(1, 'tube.wall', undefined, 1)] };
    expect(await changes.keep(one)).toBe('kept');
    expect(await changes.keep(one)).toBe('moved');
    expect(await changes.keep({ ...one, from: 2, upTo: 3 })).toBe('moved');
    expect(await changes.of({ project: 'p', limit: 10 })).toHaveLength(1);
  });

  it('keeps all of them or none', async () => {
    const { changes } = get().journal;
    await write(get().journal, 1);
    const list = [change(1, 'tube.wall', undefined, 1), change(9, 'tube.wall', 1, 2)];
    await expect(changes.keep({ project: 'p', from: 0, upTo: 9, changes: list })).rejects.toThrow();
    expect(await changes.told('p')).toBe(0);
    expect(await changes.of({ project: 'p', limit: 10 })).toEqual([]);
    expect(get().journal.readOnly, 'edits go on').toBe(false);
  });

  it('still has them when their entries have given way to a snapshot', async () => {
    const { journal } = get();
    await write(journal, 3);
    const list = [1, 2, 3].map((seq) => change(seq, 'tube.wall', seq - 1, seq));
    await journal.changes.keep({ project: 'p', from: 0, upTo: 3, changes: list });
    await journal.replaceWithSnapshot('p', 'spec', Uint8Array.of(9), 3);
    expect((await journal.changes.of({ project: 'p', limit: 10 })).map(({ after }) => after)).toEqual([3, 2, 1]);
    expect(await journal.changes.entries('p')).toEqual([{ seq: 3, kind: 'snapshot', body: Uint8Array.of(9) }]);
  });
}

function asking(get: () => JournalUnderTest): void {
  it('finds those of a path and what lies below it, of that project only', async () => {
    const { journal } = get();
    await write(journal, 1);
    await write(journal, 1, 'q');
    const paths = ['runners.r1', 'runners.r1.name', 'runners.r1.nodes.n1.x', 'runners.r10.name', 'runners.r1-b.name'];
    const changes = paths.map((path) => change(1, path, undefined, 1));
    await journal.changes.keep({ project: 'p', from: 0, upTo: 1, changes });
    await journal.changes.keep({ project: 'q', from: 0, upTo: 1, changes });
    const found = await journal.changes.of({ project: 'p', path: 'runners.r1', limit: 10 });
    expect(found.map(({ path }) => path).sort()).toEqual(paths.slice(0, 3));
  });

  it('goes on from a place in either direction, also within an entry', async () => {
    const { journal } = get();
    await write(journal, 2);
    const changes = [1, 1, 1, 2].map((seq, i) => change(seq, `tube.f${i}`, undefined, i));
    await journal.changes.keep({ project: 'p', from: 0, upTo: 2, changes });
    const values = async (query: object) =>
      (await journal.changes.of({ project: 'p', limit: 2, ...query })).map(({ after }) => after);
    expect(await values({})).toEqual([3, 2]);
    expect(await values({ before: { seq: 1, n: 2 } })).toEqual([1, 0]);
    expect(await values({ after: { seq: 0, n: 0 } })).toEqual([0, 1]);
    expect(await values({ after: { seq: 1, n: 1 } })).toEqual([2, 3]);
    expect(await values({ after: { seq: 2, n: 0 } })).toEqual([]);
  });
}
