import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Journal, JournalFault } from '../../server/storage/ports.ts';

/** A fresh, empty journal whose writes the test can make fail for real and mend again. */
export interface JournalUnderTest {
  readonly journal: Journal;
  breakWrites(): void;
  mendWrites(): void;
  dispose(): Promise<void>;
}

const bytes = (...values: number[]) => Uint8Array.from(values);

async function faultOf(promise: Promise<unknown>): Promise<string> {
  const error = await promise.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  return error instanceof JournalFault ? error.code : `no fault (${String(error)})`;
}

/** What every journal promises, whatever it is kept in. */
export function journalContract(name: string, make: () => Promise<JournalUnderTest>): void {
  describe(`journal: ${name}`, () => {
    let under: JournalUnderTest;
    beforeEach(async () => {
      under = await make();
    });
    afterEach(() => under.dispose());
    ordinary(() => under);
    snapshots(() => under);
    failures(() => under);
  });
}

function ordinary(get: () => JournalUnderTest): void {
  it('is empty at first', async () => {
    expect(await get().journal.load('p', 'spec')).toEqual({ updates: [], seq: 0 });
    expect(await get().journal.head('p')).toBe(0);
  });

  it('gives back what was appended, in order, with the number of the last', async () => {
    const { journal } = get();
    expect(await journal.append('p', 'spec', bytes(1, 2), 'a')).toBe(1);
    expect(await journal.append('p', 'spec', bytes(), 'a')).toBe(2);
    expect(await journal.append('p', 'spec', bytes(255), 'b')).toBe(3);
    expect(await journal.load('p', 'spec')).toEqual({ updates: [bytes(1, 2), bytes(), bytes(255)], seq: 3 });
  });

  it('numbers per project over all its documents', async () => {
    const { journal } = get();
    expect(await journal.append('p', 'spec', bytes(1), 'a')).toBe(1);
    expect(await journal.append('p', 'markup', bytes(2), 'a')).toBe(2);
    expect(await journal.append('q', 'spec', bytes(3), 'a')).toBe(1);
    expect(await journal.load('p', 'spec')).toEqual({ updates: [bytes(1)], seq: 1 });
    expect(await journal.load('p', 'markup')).toEqual({ updates: [bytes(2)], seq: 2 });
    expect([await journal.head('p'), await journal.head('q'), await journal.head('r')]).toEqual([2, 1, 0]);
  });

  it('numbers appends made at once in the order they were made', async () => {
    const { journal } = get();
    const count = 300;
    const made = Array.from({ length: count }, (_, index) => bytes(index & 255, index >> 8));
    const seqs = await Promise.all(made.map((update) => journal.append('p', 'spec', update, 'a')));
    expect(seqs).toEqual(made.map((_, index) => index + 1));
    expect(await journal.load('p', 'spec')).toEqual({ updates: made, seq: count });
  });

  it('keeps the bytes as they were when append was called', async () => {
    const update = bytes(7);
    const kept = get().journal.append('p', 'spec', update, 'a');
    update[0] = 9;
    await kept;
    expect((await get().journal.load('p', 'spec')).updates).toEqual([bytes(7)]);
  });

  it('commits what is queued before it closes, and refuses afterwards', async () => {
    const { journal } = get();
    const queued = journal.append('p', 'spec', bytes(1), 'a');
    await journal.close();
    expect(await queued).toBe(1);
    expect(await faultOf(journal.append('p', 'spec', bytes(2), 'a'))).toBe('closed');
    expect(await faultOf(journal.load('p', 'spec'))).toBe('closed');
  });
}

function snapshots(get: () => JournalUnderTest): void {
  it('puts a snapshot in place of what it covers and keeps what came later', async () => {
    const { journal } = get();
    for (const value of [1, 2, 3]) await journal.append('p', 'spec', bytes(value), 'a');
    await journal.append('p', 'markup', bytes(4), 'a');
    await journal.replaceWithSnapshot('p', 'spec', bytes(12), 2);
    expect(await journal.load('p', 'spec')).toEqual({ updates: [bytes(12), bytes(3)], seq: 3 });
    expect(await journal.load('p', 'markup')).toEqual({ updates: [bytes(4)], seq: 4 });
  });

  it('never gives a number twice, also when everything was compacted', async () => {
    const { journal } = get();
    await journal.append('p', 'spec', bytes(1), 'a');
    await journal.append('p', 'spec', bytes(2), 'a');
    await journal.replaceWithSnapshot('p', 'spec', bytes(3), 2);
    expect(await journal.append('p', 'spec', bytes(4), 'a')).toBe(3);
    await journal.replaceWithSnapshot('p', 'spec', bytes(5), 3);
    expect(await journal.load('p', 'spec')).toEqual({ updates: [bytes(5)], seq: 3 });
  });

  it.each([0, 2, 9])(
    'refuses a snapshot at %i, which is no entry of that document, and keeps everything',
    async (at) => {
      const { journal } = get();
      await journal.append('p', 'spec', bytes(1), 'a');
      await journal.append('p', 'markup', bytes(2), 'a');
      expect(await faultOf(journal.replaceWithSnapshot('p', 'spec', bytes(9), at))).toBe('unknown-sequence');
      expect(await journal.load('p', 'spec')).toEqual({ updates: [bytes(1)], seq: 1 });
      expect(journal.readOnly).toBe(false);
    },
  );
}

function failures(get: () => JournalUnderTest): void {
  it('rejects every waiting append when a write fails, then stays read-only until recovery', async () => {
    const { journal, breakWrites, mendWrites } = get();
    await journal.append('p', 'spec', bytes(1), 'a');
    breakWrites();
    const waiting = [2, 3, 4].map((value) => faultOf(journal.append('p', 'spec', bytes(value), 'a')));
    expect((await Promise.all(waiting)).every((code) => code === 'write-failed' || code === 'read-only')).toBe(true);
    expect(await waiting[0]).toBe('write-failed');
    expect(journal.readOnly).toBe(true);
    expect(await faultOf(journal.recover())).toBe('write-failed');
    mendWrites();
    // Mended is not enough: somebody has to decide that the log is trusted again.
    expect(await faultOf(journal.append('p', 'spec', bytes(5), 'a'))).toBe('read-only');
    expect(await faultOf(journal.replaceWithSnapshot('p', 'spec', bytes(5), 1))).toBe('read-only');
    expect(await journal.load('p', 'spec')).toEqual({ updates: [bytes(1)], seq: 1 });
    await journal.recover();
    expect(journal.readOnly).toBe(false);
    expect(await journal.append('p', 'spec', bytes(6), 'a')).toBe(2);
    expect(await journal.load('p', 'spec')).toEqual({ updates: [bytes(1), bytes(6)], seq: 2 });
  });
}
