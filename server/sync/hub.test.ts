import * as encoding from 'lib0/encoding';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import * as syncProtocol from 'y-protocols/sync';
import * as Y from 'yjs';
import {
  CLOSE_FORBIDDEN,
  CLOSE_RESYNC,
  CLOSE_TOO_MANY,
  MESSAGE_KEPT,
  MESSAGE_NOT_TAKEN,
} from '../../shared/protocol/sync.ts';
import { type LivePerson, type LiveServer, liveServer } from '../../tests/support/live.ts';
import { DocumentHub } from './hub.ts';

let live: LiveServer;
let [ann, bob, rita]: LivePerson[] = [];
beforeAll(async () => {
  live = await liveServer();
  [ann, bob, rita] = await Promise.all(['ann', 'bob', 'rita'].map((login) => live.person(login)));
});
afterAll(() => live.close());

const project = () => live.project({ ann: ['lead'], bob: ['designer'], rita: ['reviewer'] });
const open = async (person: LivePerson | undefined, at: string, name: 'spec' | 'markup' = 'spec') => {
  if (!person) throw new Error('no such person');
  const client = live.document(person, at, name);
  await client.synced();
  return client;
};

interface RawSocket {
  readonly socket: WebSocket;
  readonly frames: Uint8Array[];
  send(...numbers: readonly (number | Uint8Array)[]): void;
  closed(): number | null;
}

/** A socket that says exactly what the test wants. */
async function raw(person: LivePerson | undefined, at: string): Promise<RawSocket> {
  const url = `${live.origin.replace('http', 'ws')}/sync/${at}/spec`;
  const socket = new WebSocket(url, { headers: { Cookie: person?.cookie ?? '', Origin: live.origin } });
  const frames: Uint8Array[] = [];
  let code: number | null = null;
  socket.on('message', (data: Buffer) => {
    frames.push(data);
    live.signal.fire();
  });
  socket.on('close', (c) => {
    code = c;
    live.signal.fire();
  });
  await live.signal.until(() => frames.length > 0, 'the first frame');
  return {
    ...{ socket, frames },
    closed: () => code,
    send: (...parts) => {
      const e = encoding.createEncoder();
      for (const part of parts)
        if (typeof part === 'number') encoding.writeVarUint(e, part);
        else encoding.writeVarUint8Array(e, part);
      socket.send(encoding.toUint8Array(e));
    },
  };
}

const presenceOf = (client: number, clock: number, state: string): Uint8Array => {
  const e = encoding.createEncoder();
  for (const n of [1, client, clock]) encoding.writeVarUint(e, n);
  encoding.writeVarString(e, state);
  return encoding.toUint8Array(e);
};

describe('document socket', () => {
  it('passes edits on to everybody and acknowledges each by count', async () => {
    const at = await project();
    const [a, b, c] = await Promise.all([open(ann, at), open(bob, at), open(rita, at)]);
    const edits = Array.from({ length: 20 }, (_, i) => a.set('stud.torque', 20 + i / 10));
    b.set('engine.lambda', 0.9);
    await Promise.all([a.kept(), b.kept()]);
    await live.signal.until(
      () => [a, b, c].every((x) => x.map.get('stud.torque') === 21.9 && x.map.get('engine.lambda') === 0.9),
      'both edits everywhere',
    );
    expect(edits.every((edit) => a.acknowledged.has(edit))).toBe(true);
    expect([a.unconfirmed(), b.unconfirmed()]).toEqual([0, 0]);
    expect(Math.max(a.seq(), b.seq())).toBe(await live.server.store.journal.head(at));
    expect(await live.server.store.journal.head(at)).toBe(22);
  });

  it('has on disk whatever it acknowledged', async () => {
    const at = await project();
    const a = await open(ann, at);
    for (let i = 0; i < 10; i++) a.set('tube.wall', 0.001 + i / 10_000);
    await a.kept();
    const kept = new Y.Doc();
    for (const update of (await live.server.store.journal.load(at, 'spec')).updates) Y.applyUpdate(kept, update);
    expect(kept.getMap('spec').get('tube.wall')).toBe(0.0019);
  });

  it('does not let a reader write, and lets it come back with the deletions it heard of', async () => {
    const at = await project();
    const [a, r] = await Promise.all([open(ann, at), open(rita, at)]);
    a.edit(() => a.map.delete('purges.p1.flow'));
    a.set('stud.torque', 25);
    await a.kept();
    await live.signal.until(() => r.map.get('stud.torque') === 25, 'the edit at the reader');
    r.provider.disconnect();
    r.provider.connect();
    await r.synced();
    expect(r.refused).toEqual([]);
    r.set('stud.torque', 1);
    await live.signal.until(() => r.closed.length > 0, 'the end of the reader’s socket');
    expect(r.closed).toEqual([CLOSE_FORBIDDEN]);
    expect(r.refused).toMatchObject([{ code: 'not-allowed' }]);
    expect(a.map.get('stud.torque')).toBe(25);
    const comments = await open(rita, at, 'markup');
    const thread = { by: rita?.account.id, anchor: { kind: 'place', at: [0, 0, 0] }, n: 1 };
    comments.set('t.a', thread);
    await comments.kept();
  });

  it('takes in what was edited off line, on both sides', async () => {
    const at = await project();
    const [a, b] = await Promise.all([open(ann, at), open(bob, at)]);
    b.provider.disconnect();
    const off = [b.set('engine.lambda', 0.8), b.set('stud.torque', 19), b.edit(() => b.map.delete('project.title'))];
    a.set('tube.wall', 0.0021);
    await a.kept();
    expect(off.some((edit) => b.acknowledged.has(edit))).toBe(false);
    b.provider.connect();
    await b.synced();
    await b.kept();
    await live.signal.until(() => a.map.get('stud.torque') === 19, 'the offline edits at the other');
    expect(a.map.has('project.title')).toBe(false);
    expect(b.map.get('tube.wall')).toBe(0.0021);
    expect(a.map.toJSON()).toEqual(b.map.toJSON());
  });

  it('drops what comes before the first step 2, which brings it again', async () => {
    const at = await project();
    const watcher = await open(ann, at);
    const doc = new Y.Doc();
    const s = await raw(bob, at);
    doc.getMap('spec').set('project.car', 'A car');
    const update = Y.encodeStateAsUpdate(doc);
    s.send(0, syncProtocol.messageYjsUpdate, update);
    s.send(0, syncProtocol.messageYjsSyncStep2, update);
    await live.signal.until(() => s.frames.some((f) => f[0] === MESSAGE_KEPT), 'the acknowledgement');
    const kept = s.frames.filter((f) => f[0] === MESSAGE_KEPT);
    // Two changes were sent; the one acknowledgement covers both, and the journal has one.
    expect(kept.map((f) => f[1])).toEqual([2]);
    await live.signal.until(() => watcher.map.get('project.car') === 'A car', 'the edit at the other');
    expect(await live.server.store.journal.head(at)).toBe(2);
    s.socket.terminate();
  });

  it('says why it refuses, closes, and takes nothing more from that socket', async () => {
    const at = await project();
    const a = await open(ann, at);
    const first = a.set('nothing.here', 1);
    const second = a.set('stud.torque', 24);
    await live.signal.until(() => a.closed.length > 0, 'the end of the socket');
    expect(a.refused).toHaveLength(1);
    expect(a.refused[0]?.reason).toContain('nothing.here');
    expect([first, second].some((edit) => a.acknowledged.has(edit))).toBe(false);
    expect((await open(bob, at)).map.get('stud.torque')).toBe(20);
  });

  it('asks a client with a gap to come back, and it then catches up', async () => {
    const at = await project();
    const s = await raw(bob, at);
    const doc = new Y.Doc();
    doc.getMap('spec').set('stud.torque', 1);
    const before = Y.encodeStateVector(doc);
    doc.getMap('spec').set('engine.lambda', 1);
    s.send(0, syncProtocol.messageYjsSyncStep2, Uint8Array.of(0, 0));
    s.send(0, syncProtocol.messageYjsUpdate, Y.encodeStateAsUpdate(doc, before));
    await live.signal.until(() => s.closed() !== null, 'the end of the socket');
    expect(s.closed()).toBe(CLOSE_RESYNC);
    expect(s.frames.at(-1)?.[0]).toBe(MESSAGE_NOT_TAKEN);
  });

  it('closes on a message it cannot read, and on a flood, and nobody else notices', async () => {
    const at = await project();
    const watcher = await open(ann, at);
    const broken = await raw(bob, at);
    broken.socket.send(Uint8Array.of(0, 0, 200));
    await live.signal.until(() => broken.closed() !== null, 'the end of the broken socket');
    expect(broken.closed()).toBe(1003);
    const flood = await raw(bob, at);
    for (let i = 0; i < 2000; i++) flood.socket.send(Uint8Array.of(3));
    await live.signal.until(() => flood.closed() !== null, 'the end of the flooding socket');
    expect(flood.closed()).toBe(CLOSE_TOO_MANY);
    const large = await raw(bob, at);
    large.socket.send(new Uint8Array(2 * 1024 * 1024));
    await live.signal.until(() => large.closed() !== null, 'the end of the large socket');
    expect([1009, 1006]).toContain(large.closed());
    watcher.set('stud.torque', 23);
    await watcher.kept();
  });

  it('lets a y-websocket client hear of a crowd without taking its echo for a flood', async () => {
    const at = await project();
    const crowd = await Promise.all(Array.from({ length: 12 }, () => open(bob, at)));
    for (let round = 0; round < 60; round++)
      for (const c of crowd) c.provider.awareness.setLocalStateField('field', `f${round}`);
    const [first] = crowd;
    await live.signal.until(
      () => [...(first?.provider.awareness.getStates().values() ?? [])].filter((s) => s.field === 'f59').length === 12,
      'everybody’s last presence',
    );
    expect(crowd.flatMap((c) => c.closed)).toEqual([]);
  });
});

describe('end of a session', () => {
  it('closes its document sockets and its feed, and no others', async () => {
    const at = await project();
    const eve = await live.person('eve');
    await live.server.store.records.putMember({ projectId: at, accountId: eve.account.id, roles: ['designer'] });
    const [hers, other] = await Promise.all([open(eve, at), open(ann, at)]);
    const [herFeed, otherFeed] = [live.feed(eve, at), live.feed(await live.person('ann'), at)];
    await Promise.all([herFeed.joined(), otherFeed.joined()]);
    expect((await live.http(eve, 'DELETE', '/api/session')).status).toBe(204);
    await live.signal.until(() => hers.closed.length > 0 && !herFeed.socket.connected, 'the end of her sockets');
    expect(hers.closed).toEqual([CLOSE_FORBIDDEN]);
    other.set('stud.torque', 22);
    await other.kept();
    expect(otherFeed.socket.connected).toBe(true);
    expect(hers.map.get('stud.torque')).toBe(20);
  });
});

describe('presence', () => {
  it('writes the identity itself, whatever the client claims, and ends it with the socket', async () => {
    const at = await project();
    const [a, b] = await Promise.all([open(ann, at), open(bob, at)]);
    b.provider.awareness.setLocalState({
      account: ann?.account.id,
      name: 'Somebody else',
      roles: ['lead'],
      field: 'x.y',
    });
    const seen = () => a.provider.awareness.getStates().get(b.doc.clientID);
    await live.signal.until(() => seen()?.field === 'x.y', 'the presence of the other');
    expect(seen()).toEqual({ account: bob?.account.id, name: 'Name of bob', roles: ['designer'], field: 'x.y' });
    b.provider.awareness.setLocalState({ field: null, brings: `bay.ply${' '.repeat(300)}`, more: 'x' });
    await live.signal.until(() => seen()?.brings !== undefined, 'the file that is sent');
    expect(seen()).toEqual({
      ...{ account: bob?.account.id, name: 'Name of bob', roles: ['designer'], field: null },
      brings: `bay.ply${' '.repeat(153)}`,
    });
    b.provider.awareness.setLocalState({ field: 'x.y' });
    await live.signal.until(() => seen()?.field === 'x.y' && seen()?.brings === undefined, 'the field and no file');
    b.provider.disconnect();
    await live.signal.until(() => seen() === undefined, 'the end of the presence');
    b.provider.connect();
    await live.signal.until(() => seen()?.field === 'x.y', 'the presence again');
  });

  it('ignores what a client says of others', async () => {
    const at = await project();
    const [a, b] = await Promise.all([open(ann, at), open(bob, at)]);
    const seen = () => b.provider.awareness.getStates().get(a.doc.clientID);
    a.provider.awareness.setLocalState({ field: 'mine' });
    await live.signal.until(() => seen()?.field === 'mine', 'the presence of the first');
    const forger = await raw(rita, at);
    forger.send(1, presenceOf(4711, 1, '{"field":"own"}'));
    forger.send(1, presenceOf(a.doc.clientID, 99, '{"field":"forged"}'));
    forger.send(1, presenceOf(a.doc.clientID, 100, 'null'));
    forger.send(1, presenceOf(4711, 2, '{"field":"own again"}'));
    await live.signal.until(
      () => b.provider.awareness.getStates().get(4711)?.field === 'own again',
      'the forger’s own presence',
    );
    expect(seen()?.field).toBe('mine');
    expect(b.provider.awareness.getStates().get(4711)?.account).toBe(rita?.account.id);
    forger.socket.terminate();
    await live.signal.until(() => !b.provider.awareness.getStates().has(4711), 'the end of the forger’s presence');
  });

  it('leaves out a state that is too long, and survives one that is no JSON', async () => {
    const at = await project();
    const a = await open(ann, at);
    const s = await raw(rita, at);
    s.send(1, presenceOf(5, 1, JSON.stringify({ field: 'x'.repeat(3000) })));
    s.send(1, presenceOf(5, 2, '{'));
    await live.signal.until(() => s.closed() !== null, 'the end of the socket');
    expect(a.provider.awareness.getStates().has(5)).toBe(false);
  });
});

describe('slow peer', () => {
  it('is dropped once 4 MiB wait for it; the others are served', async () => {
    const doc = new Y.Doc();
    const fake = (bufferedAmount: number) => {
      const heard: Uint8Array[] = [];
      let terminated = false;
      const handlers = new Map<string, (data: Buffer) => void>();
      const socket = {
        ...{ OPEN: 1, readyState: 1, bufferedAmount, binaryType: '' },
        on: (event: string, handler: (data: Buffer) => void) => handlers.set(event, handler),
        send: (data: Uint8Array) => heard.push(data),
        terminate: () => {
          terminated = true;
        },
        close: () => undefined,
      };
      return { socket: socket as unknown as WebSocket, heard, handlers, terminated: () => terminated };
    };
    const hub = new DocumentHub(doc, {
      ...{ policy: { root: 'spec', allow: () => null }, seq: 0, now: () => 0 },
      owners: { owner: () => undefined, claim: async () => undefined },
      ...{ append: async () => 1, applied: () => undefined, refused: () => undefined },
      later: (run) => void setImmediate(run),
    });
    const [writer, slow, quick] = [fake(0), fake(5 * 1024 * 1024), fake(0)];
    for (const peer of [writer, slow, quick])
      hub.join(peer.socket, { account: 'a', name: 'A', roles: ['lead'] }, true, 's');
    const other = new Y.Doc();
    other.getMap('spec').set('x', 1);
    const e = encoding.createEncoder();
    for (const n of [0, syncProtocol.messageYjsSyncStep2]) encoding.writeVarUint(e, n);
    encoding.writeVarUint8Array(e, Y.encodeStateAsUpdate(other));
    const before = quick.heard.length;
    writer.handlers.get('message')?.(Buffer.from(encoding.toUint8Array(e)));
    // The change is kept in one turn and passed on in the next.
    const turn = () => new Promise<void>((resolve) => setImmediate(resolve));
    await turn();
    await turn();
    expect(slow.terminated()).toBe(true);
    expect(quick.terminated()).toBe(false);
    expect(quick.heard.length).toBe(before + 1);
    expect(doc.getMap('spec').get('x')).toBe(1);
    hub.destroy();
  });
});
