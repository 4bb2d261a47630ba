import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { addComment, openThread, setThreadState } from './commands.ts';
import {
  type Anchor,
  COMMENT_LIMIT,
  MARKUP_ROOT,
  parseMarkupKey,
  readCommentEntry,
  readStateEntry,
  readThreadEntry,
  readThreads,
  refuseMarkup,
} from './markup.ts';

const place: Anchor = { kind: 'place', at: [1, 2, 3] };
const onRunner: Anchor = { kind: 'runner', runner: 'r1', share: 0.5, angle: -2, at: [0, 0, 0] };
const thread = { by: 'ann', anchor: place, n: 1 };
const comment = { by: 'ann', text: 'too near' };

describe('keys', () => {
  it.each([
    ['t.a1', { kind: 'thread', thread: 'a1' }],
    ['t.a1.state', { kind: 'state', thread: 'a1' }],
    ['t.a1.c.0', { kind: 'comment', thread: 'a1', comment: '0' }],
    ['t.state', { kind: 'thread', thread: 'state' }],
    ['t.c.c.c', { kind: 'comment', thread: 'c', comment: 'c' }],
  ])('%s', (key, parsed) => {
    expect(parseMarkupKey(key)).toEqual(parsed);
  });

  it.each([
    '',
    't',
    't.',
    't.A',
    't.a.',
    't.a.x',
    't.a.c',
    't.a.c.',
    't.a.c.B',
    't.a.c.b.d',
    't.a.state.x',
    'x.a',
    't.a\n',
    `t.${'a'.repeat(41)}`,
    '__proto__',
  ])('%j is none', (key) => {
    expect(parseMarkupKey(key)).toBeNull();
  });
});

const nonsense: readonly unknown[] = [
  undefined,
  null,
  0,
  Number.NaN,
  'x',
  true,
  10n,
  [],
  {},
  [thread],
  new Y.Map(),
  new Uint8Array(3),
];

describe('entries', () => {
  it('takes what has the shape, and only that part of it', () => {
    expect(readThreadEntry({ ...thread, more: 1 })).toEqual(thread);
    expect(readThreadEntry({ ...thread, anchor: { ...onRunner, more: 1 } })).toEqual({ ...thread, anchor: onRunner });
    expect(readCommentEntry({ ...comment, more: 1 })).toEqual(comment);
    expect(readStateEntry({ by: 'ann', state: 'resolved', more: 1 })).toEqual({ by: 'ann', state: 'resolved' });
  });

  it('takes nothing else', () => {
    for (const value of nonsense) {
      expect(readThreadEntry(value)).toBeNull();
      expect(readCommentEntry(value)).toBeNull();
      expect(readStateEntry(value)).toBeNull();
    }
  });

  it.each<readonly [string, unknown]>([
    ['no author', { anchor: place, n: 1 }],
    ['an author that is no text', { ...thread, by: 1 }],
    ['no anchor', { by: 'ann', n: 1 }],
    ['an anchor of another kind', { ...thread, anchor: { kind: 'edge', at: [0, 0, 0] } }],
    ['a place without a point', { ...thread, anchor: { kind: 'place' } }],
    ['a point of two numbers', { ...thread, anchor: { kind: 'place', at: [0, 0] } }],
    ['a point of text', { ...thread, anchor: { kind: 'place', at: ['0', 0, 0] } }],
    ['a point that is not finite', { ...thread, anchor: { kind: 'place', at: [0, Number.NaN, 0] } }],
    ['a runner without share', { ...thread, anchor: { ...onRunner, share: undefined } }],
    ['a share beyond the end', { ...thread, anchor: { ...onRunner, share: 1.01 } }],
    ['a share before the start', { ...thread, anchor: { ...onRunner, share: -0.01 } }],
    ['an angle that is not finite', { ...thread, anchor: { ...onRunner, angle: Number.POSITIVE_INFINITY } }],
    ['a runner that is no text', { ...thread, anchor: { ...onRunner, runner: 1 } }],
    ['a runner anchor without its point', { ...thread, anchor: { ...onRunner, at: null } }],
    ['no number', { by: 'ann', anchor: place }],
    ['a broken number', { ...thread, n: 1.5 }],
    ['number 0', { ...thread, n: 0 }],
    ['a number that would leave none for the next', { ...thread, n: Number.MAX_SAFE_INTEGER }],
  ])('a thread with %s is none', (_, value) => {
    expect(readThreadEntry(value)).toBeNull();
  });

  it.each<readonly [string, unknown]>([
    ['no text', { by: 'ann' }],
    ['blank text', { by: 'ann', text: ' \n' }],
    ['too long a text', { by: 'ann', text: 'x'.repeat(COMMENT_LIMIT + 1) }],
  ])('a comment with %s is none', (_, value) => {
    expect(readCommentEntry(value)).toBeNull();
    expect(readCommentEntry({ by: 'ann', text: 'x'.repeat(COMMENT_LIMIT) })).not.toBeNull();
  });
});

describe('readThreads', () => {
  it('sorts threads by number, equal numbers by id, comments by id', () => {
    const entries = new Map<string, unknown>([
      ['t.b', { ...thread, n: 2 }],
      ['t.c', { ...thread, n: 1 }],
      ['t.a', { ...thread, n: 2 }],
      ['t.a.c.k2', comment],
      ['t.a.c.0', comment],
      ['t.a.c.k1', comment],
    ]);
    const threads = readThreads(entries);
    expect(threads.map((t) => t.id)).toEqual(['c', 'a', 'b']);
    expect(threads[1]?.comments.map((c) => c.id)).toEqual(['0', 'k1', 'k2']);
  });

  it('leaves out what cannot be read and keeps everything beside it', () => {
    const entries = new Map<string, unknown>([
      ['t.good', thread],
      ['t.good.c.0', comment],
      ['t.good.c.1', 5],
      ['t.good.state', 'closed'],
      ['t.orphan.c.0', comment],
      ['t.orphan.state', { by: 'ann', state: 'resolved' }],
      ['nonsense', thread],
      ...nonsense.map((value, i): [string, unknown] => [`t.n${i}`, value]),
    ]);
    expect(readThreads(entries)).toEqual([
      { ...thread, id: 'good', comments: [{ ...comment, id: '0' }], state: 'open', resolvedBy: null },
    ]);
  });

  it('knows who resolved, and forgets it when reopened', () => {
    const entries = new Map<string, unknown>([['t.a', thread]]);
    entries.set('t.a.state', { by: 'bob', state: 'resolved' });
    expect(readThreads(entries)[0]).toMatchObject({ state: 'resolved', resolvedBy: 'bob' });
    entries.set('t.a.state', { by: 'cid', state: 'open' });
    expect(readThreads(entries)[0]).toMatchObject({ state: 'open', resolvedBy: null });
  });
});

describe('refuseMarkup', () => {
  const own = 'ann';
  const bobs = { by: 'bob', text: 'hm' };
  const resolved = { by: 'ann', state: 'resolved' };
  /** Name, key, before, after, refusal ('' for none); all by ann. */
  const table: readonly (readonly [string, string, unknown, unknown, RegExp | ''])[] = [
    ['opens a thread', 't.a', undefined, thread, ''],
    ['opens one under another name', 't.a', undefined, { ...thread, by: 'bob' }, /name of the account/],
    ['opens a broken one', 't.a', undefined, { by: 'ann' }, /thread entry does not have the expected shape/],
    ['moves the pin of the own one', 't.a', thread, { ...thread, anchor: onRunner }, ''],
    ["moves the pin of another's", 't.a', { ...thread, by: 'bob' }, thread, /another account/],
    ["takes another's over by name", 't.a', { ...thread, by: 'bob' }, { ...thread, by: 'bob' }, /another account/],
    ['removes the own one', 't.a', thread, undefined, /resolved, not removed/],
    ["removes another's", 't.a', { ...thread, by: 'bob' }, undefined, /another account/],
    ['removes garbage', 't.a', 5, undefined, ''],
    ['replaces garbage', 't.a', 5, thread, ''],
    ['comments', 't.a.c.1', undefined, comment, ''],
    ['comments under another name', 't.a.c.1', undefined, bobs, /name of the account/],
    ['comments without text', 't.a.c.1', undefined, { by: 'ann', text: '' }, /comment entry does not/],
    ['rewrites the own comment', 't.a.c.1', comment, { by: 'ann', text: 'other' }, ''],
    ['removes the own comment', 't.a.c.1', comment, undefined, ''],
    ["rewrites another's comment", 't.a.c.1', bobs, comment, /another account/],
    ["removes another's comment", 't.a.c.1', bobs, undefined, /another account/],
    ['hands the own comment to another', 't.a.c.1', comment, bobs, /name of the account/],
    ['resolves', 't.a.state', undefined, resolved, ''],
    ['reopens what another resolved', 't.a.state', { by: 'bob', state: 'resolved' }, { by: 'ann', state: 'open' }, ''],
    ['takes away what another resolved', 't.a.state', { by: 'bob', state: 'resolved' }, undefined, ''],
    ['resolves under another name', 't.a.state', undefined, { by: 'bob', state: 'resolved' }, /name of the account/],
    ['sets an unknown state', 't.a.state', undefined, { by: 'ann', state: 'gone' }, /state entry does not/],
    ['writes beside the threads', 'x', undefined, 1, /"x" is no markup entry/],
    ['removes beside the threads', 'x', 1, undefined, /is no markup entry/],
    ['puts a comment at a thread', 't.a', undefined, comment, /thread entry does not/],
  ];

  it.each(table)('%s', (_, key, before, after, refusal) => {
    const said = refuseMarkup({ key, before, after }, own);
    if (refusal === '') expect(said).toBeNull();
    else expect(said).toMatch(refusal);
  });

  it('throws for nothing a peer may send', () => {
    for (const key of ['t.a', 't.a.c.1', 't.a.state', 'x'])
      for (const before of nonsense)
        for (const after of nonsense) {
          const said = refuseMarkup({ key, before, after }, own);
          if (after !== undefined) expect(said).not.toBeNull();
        }
  });
});

describe('commands', () => {
  const bench = () => {
    const doc = new Y.Doc();
    const map = doc.getMap<unknown>(MARKUP_ROOT);
    let transactions = 0;
    map.observe(() => {
      transactions += 1;
    });
    return { doc, map, read: () => readThreads(map), transactions: () => transactions };
  };

  it('open, answer, resolve, reopen', () => {
    const { doc, read, transactions } = bench();
    expect(openThread(doc, { id: 'k1', by: 'ann', anchor: onRunner, text: 'too near' })).toBe(1);
    expect(transactions()).toBe(1);
    addComment(doc, 'k1', { id: 'k2', by: 'bob', text: 'moved' });
    setThreadState(doc, 'k1', 'resolved', 'ann');
    expect(read()).toEqual([
      {
        id: 'k1',
        by: 'ann',
        anchor: onRunner,
        n: 1,
        comments: [
          { id: '0', by: 'ann', text: 'too near' },
          { id: 'k2', by: 'bob', text: 'moved' },
        ],
        state: 'resolved',
        resolvedBy: 'ann',
      },
    ]);
    setThreadState(doc, 'k1', 'open', 'bob');
    expect(read()[0]?.state).toBe('open');
  });

  it('numbers go on from the highest that can be read, whatever a peer wrote', () => {
    const { doc, map, read } = bench();
    map.set('t.bad', { ...thread, n: Number.MAX_SAFE_INTEGER });
    openThread(doc, { id: 'a', by: 'ann', anchor: place, text: 'one' });
    expect(openThread(doc, { id: 'b', by: 'ann', anchor: place, text: 'two' })).toBe(2);
    expect(read().map((t) => t.n)).toEqual([1, 2]);
  });

  it('what the commands write is what the author may write', () => {
    const { doc, map } = bench();
    const refusals: (string | null)[] = [];
    map.observe((event) => {
      for (const key of event.keysChanged)
        if (typeof key === 'string')
          refusals.push(refuseMarkup({ key, before: undefined, after: map.get(key) }, 'ann'));
    });
    openThread(doc, { id: 'a', by: 'ann', anchor: place, text: 'one' });
    addComment(doc, 'a', { id: 'b', by: 'ann', text: 'two' });
    setThreadState(doc, 'a', 'resolved', 'ann');
    expect(refusals).toEqual([null, null, null, null]);
  });
});
