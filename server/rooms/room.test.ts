import { afterEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import type { Concession } from '../../shared/gates/concession.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import type { ClearanceResult, MeasureJob } from '../../shared/geometry/measurement.ts';
import { jobKey } from '../../shared/geometry/measurement.ts';
import type { DecidedMessage, FeedDelta } from '../../shared/protocol/events.ts';
import type { DocumentName } from '../../shared/protocol/sync.ts';
import { nothingDecided } from '../../shared/record/decided.ts';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { resultOf } from '../../tests/support/measurements.ts';
import { memoryJournal } from '../../tests/support/memory-journal.ts';
import { memoryRecords } from '../../tests/support/memory-records.ts';
import type { MeasureService, MeasureState } from '../measure/service.ts';
import { MeasurementDesk } from './measurements.ts';
import { RoomRegistry } from './registry.ts';
import type { Room } from './room.ts';

const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const settle = async (): Promise<void> => {
  for (let i = 0; i < 6; i++) await turn();
};

/** A measuring service whose jobs end when the test says so. */
function handService() {
  const states = new Map<string, MeasureState>();
  const listeners = new Set<(key: string, state: Exclude<MeasureState, { state: 'waiting' }>) => void>();
  const service = {
    request: (job: MeasureJob): MeasureState => {
      const key = jobKey(job);
      // What is not a clearance is there at once.
      const there = job.kind === 'clearance' ? undefined : ({ state: 'done', result: resultOf(job.kind) } as const);
      const state = states.get(key) ?? there ?? { state: 'waiting' };
      states.set(key, state);
      return state;
    },
    lookup: (key: string) => states.get(key),
    onResult: (listener: Parameters<MeasureService['onResult']>[0]) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    keepOnly: (keys: Iterable<string>) => {
      const wanted = new Set(keys);
      for (const [key, { state }] of states) if (state === 'waiting' && !wanted.has(key)) states.delete(key);
      return 0;
    },
  };
  const finish = (gap: number): number => {
    const waiting = [...states].filter(([, { state }]) => state === 'waiting');
    for (const [key] of waiting) {
      const at = { point: [0, 0, 0], foot: [0, 0, 0], onTube: [0, 0, 0] } as const;
      const result: ClearanceResult = { gap, ...at, s: 0.2, points: 9, cover: 0 };
      const done = { state: 'done', result } as const;
      states.set(key, done);
      for (const listener of listeners) listener(key, done);
    }
    return waiting.length;
  };
  const waiting = () => [...states.values()].filter(({ state }) => state === 'waiting').length;
  return { service: service as unknown as MeasureService, finish, waiting };
}

const open: RoomRegistry[] = [];
afterEach(async () => {
  for (const rooms of open.splice(0)) await rooms.close();
});

function bench(journal = memoryJournal(), now = () => 0) {
  const hand = handService();
  const desk = new MeasurementDesk(hand.service);
  const deltas: FeedDelta[] = [];
  const gates: (readonly GateView[])[] = [];
  const troubles: (string | null)[] = [];
  const warnings: string[] = [];
  const told: DecidedMessage[] = [];
  const given = {
    decided: nothingDecided,
    clock: 0,
    timers: new Set<{ readonly ms: number; readonly run: () => void }>(),
  };
  const rooms = new RoomRegistry({
    ...{
      journal,
      records: memoryRecords(),
      decided: async () => given.decided,
      now,
      clock: () => given.clock,
      after: (ms, run) => {
        const timer = { ms, run };
        given.timers.add(timer);
        return () => given.timers.delete(timer);
      },
      warn: (event) => warnings.push(event),
    },
    measurements: (arrived) => desk.open(arrived),
    rate: { burst: 1e6, perSecond: 1e6 },
    later: (run) => void setImmediate(run),
    feed: {
      delta: (_project, message) => void deltas.push(message),
      gates: (_project, message) => void gates.push(message),
      decided: (_project, message) => void told.push(message),
      scans: () => undefined,
      parts: () => undefined,
      revisions: () => undefined,
      trouble: (_project, message) => void troubles.push(message),
    },
  });
  open.push(rooms);
  return { journal, rooms, hand, deltas, gates, troubles, warnings, told, given };
}

async function filled(): Promise<ReturnType<typeof memoryJournal>> {
  const journal = memoryJournal();
  const doc = new Y.Doc();
  for (const [key, value] of baseEntries()) doc.getMap<unknown>('spec').set(key, value);
  await journal.append('p', 'spec', Y.encodeStateAsUpdate(doc), 'ann');
  return journal;
}

/** Writes as a connected client's update would come in, without a socket. */
function writer(room: Room, name: DocumentName = 'spec') {
  const hub = room.document(name);
  const doc = new Y.Doc();
  Y.applyUpdate(doc, Y.encodeStateAsUpdate(hub.doc));
  const socket = fakeSocket();
  hub.join(socket.socket, { account: 'ann', name: 'Ann', roles: ['lead'] }, true, 's');
  socket.say(0, 1, Uint8Array.of(0, 0));
  doc.on('update', (update: Uint8Array) => socket.say(0, 2, update));
  return { map: doc.getMap<unknown>(name), doc, leave: socket.leave };
}

function fakeSocket() {
  const handlers = new Map<string, (data?: Buffer) => void>();
  const socket = {
    ...{ OPEN: 1, readyState: 1, bufferedAmount: 0, binaryType: '', send: () => undefined, close: () => undefined },
    on: (event: string, handler: (data?: Buffer) => void) => handlers.set(event, handler),
  };
  const varuint = (n: number): number[] => (n < 128 ? [n] : [(n & 127) | 128, ...varuint(n >>> 7)]);
  return {
    socket: socket as unknown as Parameters<ReturnType<Room['document']>['join']>[0],
    say: (type: number, step: number, body: Uint8Array) =>
      handlers.get('message')?.(Buffer.from([type, step, ...varuint(body.length), ...body])),
    leave: () => handlers.get('close')?.(),
  };
}

describe('concessions in a room', () => {
  const granted: Concession = {
    ...{
      id: 'c1',
      verdict: 'port-match/port',
      gate: 'design',
      title: 'Limit the step',
      quantity: 'length',
      value: 0.001,
    },
    ...{ limit: { kind: 'max', value: 0.0005 }, reason: 'a bench engine', by: { account: 'ann', name: 'Ann' }, at: '' },
    ...{ expires: new Date(50_000).toISOString(), hash: 'h' },
  };

  /** A room in which a value is outside its limit, and a concession for exactly that until second 50. */
  async function conceded() {
    const journal = memoryJournal();
    const doc = new Y.Doc();
    for (const [key, value] of baseEntries({ 'port.step': 0.001 })) doc.getMap<unknown>('spec').set(key, value);
    await journal.append('p', 'spec', Y.encodeStateAsUpdate(doc), 'ann');
    const made = bench(journal);
    const room = await made.rooms.open('p');
    const verdict = room.snapshot().verdicts.find((v) => v.rule === 'port-match' && v.status === 'fail');
    if (verdict?.status !== 'fail') throw new Error('nothing fails');
    const concession = { ...granted, verdict: verdict.key, value: verdict.measured, limit: verdict.limit };
    made.given.decided = { ...nothingDecided, concessions: [concession] };
    await room.decidedMore();
    const blocked = () => {
      const state = room.snapshot().gates.find(({ gate }) => gate === 'design')?.state;
      const blockers = state?.state === 'open' ? state.blockers : [];
      return blockers.filter((one) => one.kind === 'rule' && one.verdict === verdict.key);
    };
    return { ...made, room, blocked, concession };
  }

  it('tells where they stand, and that a gate no longer waits for what was accepted', async () => {
    const { told, gates, blocked } = await conceded();
    expect(told).toMatchObject([{ concessions: [{ standing: { standing: 'in-force' } }] }]);
    expect(gates.at(-1)?.find(({ gate }) => gate === 'design')?.concessions).toEqual(['c1']);
    expect(blocked()).toEqual([]);
  });

  it('looks again when the next one runs out, with nobody doing anything', async () => {
    const { told, given, gates, blocked } = await conceded();
    expect([...given.timers].map(({ ms }) => ms)).toEqual([50_000]);
    const [timer] = given.timers;
    given.clock = 50_000;
    given.timers.clear();
    timer?.run();
    expect(told.at(-1)).toMatchObject({ concessions: [{ standing: { standing: 'lapsed', because: 'expired' } }] });
    expect(gates.at(-1)?.find(({ gate }) => gate === 'design')?.concessions).toEqual([]);
    expect(blocked()).toMatchObject([{ status: 'fail', lapsed: { because: 'expired' } }]);
    expect(given.timers.size).toBe(0);
  });

  it('waits for far ends in steps, and stops waiting when the room closes or nothing can run out', async () => {
    const { given, room, rooms, concession } = await conceded();
    const until = (expires: string | null) => {
      given.decided = { ...nothingDecided, concessions: [{ ...concession, expires }] };
      return room.decidedMore();
    };
    await until('2100-01-01T00:00:00.000Z');
    expect([...given.timers].map(({ ms }) => ms)).toEqual([6 * 3600 * 1000]);
    await until(null);
    expect(given.timers.size).toBe(0);
    await until(new Date(50_000).toISOString());
    await rooms.close();
    expect(given.timers.size).toBe(0);
  });
});

describe('room', () => {
  it('sends one delta for all changes of one turn, with the number of the last', async () => {
    const { rooms, deltas } = bench(await filled());
    const { map } = writer(await rooms.open('p'));
    map.set('stud.torque', 1);
    map.set('stud.torque', 2);
    map.set('engine.lambda', 0.9);
    await settle();
    expect(deltas).toHaveLength(1);
    expect(deltas[0]).toMatchObject({ rev: 1, seq: 4 });
    map.set('stud.torque', 20);
    await settle();
    expect(deltas.map((d) => d.rev)).toEqual([1, 2]);
  });

  it('says what was checked even when no verdict moved, and sends gates only when they did', async () => {
    const { rooms, deltas, gates } = bench(await filled());
    const { map } = writer(await rooms.open('p'));
    map.set('project.title', 'Another title');
    await settle();
    expect(deltas).toMatchObject([{ seq: 2, changed: [], cleared: [] }]);
    const before = gates.length;
    map.set('project.title', 'A third title');
    await settle();
    expect(gates.length).toBe(before);
    map.set('stud.torque', 1);
    await settle();
    expect(gates.length).toBe(before + 1);
  });

  it('takes in a measurement that arrives, and measures anew what an edit moved', async () => {
    const { rooms, hand, deltas } = bench(await filled());
    const room = await rooms.open('p');
    const bay = () => room.snapshot().verdicts.filter((v) => v.rule === 'bay-clearance');
    expect(bay().map((v) => v.status)).toEqual(['unknown', 'unknown']);
    expect(hand.finish(0.2)).toBe(2);
    await settle();
    expect(bay().map((v) => v.status)).toEqual(['pass', 'pass']);
    expect(deltas.at(-1)?.changed.map((v) => v.rule)).toEqual([
      'bay-clearance',
      'bay-clearance',
      'hood-clearance',
      'hood-clearance',
      'measured-vs-model',
    ]);
    const { map } = writer(room);
    map.set('runners.r1.nodes.n2.y', 0.16);
    await settle();
    expect(
      bay()
        .map((v) => v.status)
        .sort(),
    ).toEqual(['pass', 'unknown']);
    expect(hand.finish(0.001)).toBe(1);
    await settle();
    expect(
      bay()
        .map((v) => v.status)
        .sort(),
    ).toEqual(['fail', 'pass']);
  });

  it('drops a measurement that was overtaken before it began, and keeps the others of the same room', async () => {
    const { rooms, hand } = bench(await filled());
    const room = await rooms.open('p');
    const { map } = writer(room);
    for (const y of [0.16, 0.17, 0.18]) {
      map.set('runners.r1.nodes.n2.y', y);
      await settle();
    }
    expect(hand.waiting()).toBe(2);
    hand.finish(0.2);
    await settle();
    expect(room.snapshot().verdicts.filter((v) => v.rule === 'bay-clearance' && v.status === 'pass')).toHaveLength(2);
  });

  it('keeps what other rules wait for when an edit asks one of them alone', async () => {
    const { rooms, hand } = bench(await filled());
    const { map } = writer(await rooms.open('p'));
    expect(hand.waiting()).toBe(2);
    // Only the mock-up's rule reads this, and it asks for one of the two gaps.
    map.set('clearances.k1.gap', 0.19);
    await settle();
    expect(hand.waiting()).toBe(2);
    // Without components nobody waits for anything.
    map.delete('components.c1');
    await settle();
    expect(hand.waiting()).toBe(0);
  });

  it('keeps two rooms’ measurements apart', async () => {
    const journal = await filled();
    for (const update of (await journal.load('p', 'spec')).updates) await journal.append('q', 'spec', update, 'ann');
    const { rooms, hand } = bench(journal);
    const [p, q] = await Promise.all([rooms.open('p'), rooms.open('q')]);
    const { map } = writer(p);
    map.set('runners.r1.nodes.n2.y', 0.17);
    await settle();
    hand.finish(0.2);
    await settle();
    for (const room of [p, q])
      expect(room.snapshot().verdicts.filter((v) => v.rule === 'bay-clearance' && v.status !== 'pass')).toEqual([]);
  });

  it('is the same after it was closed, compacted and opened again', async () => {
    const journal = await filled();
    const first = bench(journal);
    const room = await first.rooms.open('p');
    const { map, leave } = writer(room);
    for (let i = 0; i < 450; i++) {
      map.set('stud.torque', 18 + (i % 5));
      if (i % 100 === 0) await settle();
    }
    await settle();
    const before = { entries: [...room.entries()].sort(), snapshot: room.snapshot() };
    leave();
    await first.rooms.close();
    expect((await journal.load('p', 'spec')).updates).toHaveLength(451);
    const second = bench(journal);
    const again = await second.rooms.open('p');
    expect((await journal.load('p', 'spec')).updates).toHaveLength(1);
    expect([...again.entries()].sort()).toEqual(before.entries);
    const { seq, verdicts, gates } = again.snapshot();
    expect({ seq, verdicts, gates }).toEqual({
      ...{ seq: 451, verdicts: before.snapshot.verdicts, gates: before.snapshot.gates },
    });
    const after = writer(again);
    after.map.set('stud.torque', 30);
    await settle();
    expect(second.deltas.at(-1)?.seq).toBe(452);
    const third = await bench(journal).rooms.open('p');
    expect(third.entries().get('stud.torque')).toBe(30);
  });

  it('opens for reading while the disk takes no writes', async () => {
    const journal = await filled();
    const doc = new Y.Doc();
    doc.on('update', (update: Uint8Array) => void journal.append('p', 'spec', update, 'ann'));
    for (let i = 0; i < 420; i++) doc.getMap<unknown>('spec').set('stud.torque', i);
    await settle();
    journal.broken = true;
    const { rooms, warnings } = bench(journal);
    expect((await rooms.open('p')).entries().get('engine.cylinders')).toBe(2);
    expect(warnings).toEqual(['not-compacted']);
  });

  it('tries a failed opening again', async () => {
    const journal = await filled();
    const load = journal.load;
    journal.load = () => Promise.reject(new Error('the disk is gone'));
    const { rooms } = bench(journal);
    await expect(rooms.open('p')).rejects.toThrow('the disk is gone');
    journal.load = load;
    expect((await rooms.open('p')).entries().size).toBeGreaterThan(10);
  });

  it('writes nothing of what could not be stored, and says so', async () => {
    const { rooms, journal, troubles, deltas } = bench(await filled());
    const room = await rooms.open('p');
    const { map } = writer(room);
    journal.broken = true;
    map.set('stud.torque', 1);
    await settle();
    expect(room.entries().get('stud.torque')).toBe(20);
    expect(troubles).toHaveLength(1);
    expect(troubles[0]).toContain('could not');
    expect(deltas).toEqual([]);
  });

  describe('while a change is on its way to disk', () => {
    /** A room whose journal answers when the test says so. */
    async function slow() {
      const made = bench(await filled());
      const room = await made.rooms.open('p');
      const { map } = writer(room);
      const append = made.journal.append;
      const answers: (() => void)[] = [];
      made.journal.append = async (...entry) => {
        await new Promise<void>((resolve) => answers.push(resolve));
        return append(...entry);
      };
      const torque = () => room.snapshot().verdicts.find((v) => v.rule === 'stud-preload')?.status;
      return { ...made, room, map, torque, answer: () => answers.shift()?.() };
    }

    it('shows its verdict to nobody, and to everybody once it is there', async () => {
      const { map, torque, deltas, answer, gates } = await slow();
      map.set('stud.torque', 1);
      await settle();
      expect([torque(), deltas, gates]).toEqual(['pass', [], []]);
      answer();
      await settle();
      expect(torque()).toBe('fail');
      expect(deltas).toMatchObject([
        {
          rev: 1,
          seq: 2,
          changed: expect.arrayContaining([expect.objectContaining({ rule: 'stud-preload', status: 'fail' })]),
        },
      ]);
      expect(gates).toHaveLength(1);
    });

    it('shows what is stored without what is still on its way', async () => {
      const { map, deltas, answer, torque } = await slow();
      map.set('stud.torque', 1);
      await settle();
      map.set('stud.torque', 20);
      await settle();
      answer();
      await settle();
      expect(torque()).toBe('fail');
      expect(deltas.map((d) => [d.seq, d.changed.find((v) => v.rule === 'stud-preload')?.status])).toEqual([
        [2, 'fail'],
      ]);
      answer();
      await settle();
      expect(torque()).toBe('pass');
      expect(deltas.map((d) => d.seq)).toEqual([2, 3]);
    });

    it('judges back what the disk refuses, and nobody has seen it', async () => {
      const { map, deltas, answer, torque, journal, room, rooms } = await slow();
      map.set('stud.torque', 1);
      map.set('engine.lambda', 0.5);
      await settle();
      journal.broken = true;
      answer();
      answer();
      await settle();
      expect([torque(), deltas]).toEqual(['pass', []]);
      journal.broken = false;
      await journal.recover();
      const second = writer(room);
      second.map.set('project.title', 'After the trouble');
      await settle();
      answer();
      await settle();
      expect(room.entries().get('project.title')).toBe('After the trouble');
      expect(deltas).toMatchObject([{ changed: [], cleared: [] }]);
      const { verdicts } = room.snapshot();
      await rooms.close();
      const fresh = await bench(journal).rooms.open('p');
      expect(verdicts).toEqual(fresh.snapshot().verdicts);
    });
  });

  it('tries the journal again by itself and says when it takes writes', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    try {
      const { rooms, journal, troubles } = bench(await filled());
      const room = await rooms.open('p');
      const first = writer(room);
      journal.broken = true;
      first.map.set('stud.torque', 1);
      await settle();
      await vi.advanceTimersByTimeAsync(4000);
      expect(troubles).toHaveLength(1);
      expect(journal.readOnly).toBe(true);
      journal.broken = false;
      await vi.advanceTimersByTimeAsync(2000);
      await settle();
      expect(troubles).toEqual([expect.any(String), null]);
      writer(room).map.set('stud.torque', 2);
      await settle();
      expect(room.entries().get('stud.torque')).toBe(2);
    } finally {
      vi.useRealTimers();
    }
  });

  it('closes a room that nobody is in, a while after the last one asked, and not before', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
    try {
      let now = 0;
      const { rooms } = bench(await filled(), () => now);
      const room = await rooms.open('p');
      const { leave } = writer(room);
      const pass = async () => {
        now += 60_000;
        await vi.advanceTimersByTimeAsync(60_000);
        await settle();
      };
      await pass();
      expect(await rooms.open('p')).toBe(room);
      leave();
      now += 1;
      await rooms.open('p');
      await vi.advanceTimersByTimeAsync(60_000);
      expect(await rooms.open('p')).toBe(room);
      await pass();
      expect(await rooms.open('p')).not.toBe(room);
    } finally {
      vi.useRealTimers();
    }
  });

  it('opens one room for all who ask at once', async () => {
    const { rooms } = bench(await filled());
    const [a, b] = await Promise.all([rooms.open('p'), rooms.open('p')]);
    expect(a).toBe(b);
  });
});
