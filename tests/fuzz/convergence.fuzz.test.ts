import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { describe, expect, it } from 'vitest';
import type { WebSocket } from 'ws';
import * as syncProtocol from 'y-protocols/sync';
import * as Y from 'yjs';
import { policies } from '../../server/rooms/policies.ts';
import { DocumentHub } from '../../server/sync/hub.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { MESSAGE_KEPT, MESSAGE_NOT_TAKEN } from '../../shared/protocol/sync.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';

const seed = Number(process.env.FUZZ_SEED ?? 1);
const rounds = Number(process.env.FUZZ_ROUNDS ?? 20);
const STEPS = 400;
const PEERS = 5;

const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const shared = ['stud.torque', 'engine.lambda', 'tube.wall', 'project.title'];

/** A link whose frames wait, in order, until the scheduler lets one through. */
class Link {
  readonly up: Uint8Array[] = [];
  readonly down: Uint8Array[] = [];
  private readonly handlers = new Map<string, (data?: Buffer) => void>();
  readonly socket: WebSocket;

  constructor() {
    const socket = {
      ...{ OPEN: 1, readyState: 1, bufferedAmount: 0, binaryType: '' },
      on: (event: string, handler: (data?: Buffer) => void) => void this.handlers.set(event, handler),
      send: (data: Uint8Array) => void this.down.push(data),
      close: () => undefined,
      terminate: () => undefined,
    };
    this.socket = socket as unknown as WebSocket;
  }

  arrive(): void {
    const frame = this.up.shift();
    if (frame) this.handlers.get('message')?.(Buffer.from(frame));
  }

  cut(): void {
    this.handlers.get('close')?.();
  }
}

const frame = (write: (e: encoding.Encoder) => void): Uint8Array => {
  const e = encoding.createEncoder();
  encoding.writeVarUint(e, 0);
  write(e);
  return encoding.toUint8Array(e);
};

/** A client that edits, loses its link and comes back, and notes what was acknowledged. */
class Peer {
  readonly doc = new Y.Doc();
  readonly acknowledged = new Set<string>();
  link: Link | null = null;
  refused = 0;
  private sent = 0;
  private pending: { readonly key: string; readonly frame: number }[] = [];
  private edits = 0;
  private readonly name: string;

  constructor(name: string, client: number) {
    this.name = name;
    this.doc.clientID = client;
    this.doc.on('update', (update: Uint8Array, origin: unknown) => {
      if (origin !== 'server') this.send(frame((e) => syncProtocol.writeUpdate(e, update)));
    });
  }

  connect(hub: DocumentHub): void {
    this.link = new Link();
    this.sent = 0;
    this.pending = this.pending.map(({ key }) => ({ key, frame: Number.POSITIVE_INFINITY }));
    hub.join(this.link.socket, { account: this.name, name: this.name, roles: ['lead'] }, true, 's');
    this.link.up.push(frame((e) => syncProtocol.writeSyncStep1(e, this.doc)));
  }

  disconnect(): void {
    this.link?.cut();
    this.link = null;
  }

  edit(random: () => number): void {
    const map = this.doc.getMap<unknown>(SPEC_ROOT);
    const contested = shared[Math.floor(random() * shared.length)] ?? '';
    if (random() < 0.2) map.delete(contested);
    else if (random() < 0.6)
      map.set(contested, contested === 'project.title' ? `${this.name} ${this.edits}` : random());
    else {
      const key = `components.${this.name}-${this.edits++}`;
      const before = this.sent;
      map.set(key, this.edits);
      this.pending.push({ key, frame: this.sent > before ? this.sent : Number.POSITIVE_INFINITY });
    }
  }

  hear(): void {
    const data = this.link?.down.shift();
    if (!data) return;
    const d = decoding.createDecoder(data);
    const type = decoding.readVarUint(d);
    if (type === MESSAGE_NOT_TAKEN) this.refused += 1;
    if (type === MESSAGE_KEPT) this.kept(decoding.readVarUint(d));
    if (type !== 0) return;
    const step = decoding.readVarUint(d);
    const body = decoding.readVarUint8Array(d);
    if (step !== 0) return Y.applyUpdate(this.doc, body, 'server');
    this.send(frame((e) => syncProtocol.writeSyncStep2(e, this.doc, body)));
    this.pending = this.pending.map(({ key, frame: at }) => ({ key, frame: Math.min(at, this.sent) }));
  }

  private kept(count: number): void {
    for (const { key, frame: at } of this.pending) if (at <= count) this.acknowledged.add(key);
    this.pending = this.pending.filter((p) => p.frame > count);
  }

  private send(bytes: Uint8Array): void {
    if (!this.link) return;
    this.sent += 1;
    this.link.up.push(bytes);
  }

  open(): number {
    return this.pending.length;
  }
}

/** A server whose disk commits when the scheduler says so, in batches. */
function server() {
  const disk: Uint8Array[] = [];
  let waiting: { update: Uint8Array; resolve: (seq: number) => void }[] = [];
  const owners = new Map<number, string>();
  const hub = new DocumentHub(new Y.Doc(), {
    ...{ policy: policies.spec, seq: 0, now: () => 0, applied: () => undefined, refused: () => undefined },
    rate: { burst: 1e9, perSecond: 1e9 },
    later: (run) => void setImmediate(run),
    owners: { owner: (c) => owners.get(c), claim: async (c, account) => void owners.set(c, account) },
    append: (update) => new Promise((resolve) => waiting.push({ update, resolve })),
  });
  const commit = async (): Promise<void> => {
    const batch = waiting;
    waiting = [];
    for (const { update, resolve } of batch) resolve(disk.push(update));
    await turn();
  };
  return { hub, disk, commit };
}

async function step(
  random: () => number,
  peers: readonly Peer[],
  { hub, commit }: ReturnType<typeof server>,
): Promise<void> {
  const peer = peers[Math.floor(random() * peers.length)];
  if (!peer) return;
  const act = random();
  if (act < 0.35) peer.edit(random);
  else if (act < 0.6) peer.link?.arrive();
  else if (act < 0.85) peer.hear();
  else if (act < 0.95) await commit();
  else if (peer.link) peer.disconnect();
  else peer.connect(hub);
  await Promise.resolve();
}

async function calm(peers: readonly Peer[], at: ReturnType<typeof server>): Promise<void> {
  for (const peer of peers) if (!peer.link) peer.connect(at.hub);
  const busy = () => peers.some((p) => (p.link?.up.length ?? 0) + (p.link?.down.length ?? 0) + p.open() > 0);
  for (let i = 0; i < 100_000 && busy(); i++) {
    for (const peer of peers) {
      peer.link?.arrive();
      peer.hear();
    }
    await at.commit();
  }
}

describe('convergence', () => {
  it(`brings ${PEERS} clients together in ${rounds} rounds of ${STEPS} steps, seed ${seed} (FUZZ_SEED, FUZZ_ROUNDS)`, async () => {
    let acknowledged = 0;
    for (let round = 0; round < rounds; round++) {
      const random = seededRandom(seed * 1000 + round);
      const at = server();
      const peers = Array.from({ length: PEERS }, (_, i) => new Peer(`p${i}`, Math.floor(random() * 2 ** 32)));
      for (let i = 0; i < STEPS; i++) await step(random, peers, at);
      const known = peers.flatMap((p) => [...p.acknowledged]);
      const live = at.hub.doc.getMap<unknown>(SPEC_ROOT);
      expect(
        known.filter((key) => !live.has(key)),
        `round ${round}: acknowledged and not there`,
      ).toEqual([]);
      await calm(peers, at);
      const replay = new Y.Doc();
      for (const update of at.disk) Y.applyUpdate(replay, update);
      for (const doc of [replay, ...peers.map((p) => p.doc)]) {
        expect(doc.getMap(SPEC_ROOT).toJSON(), `round ${round}`).toEqual(live.toJSON());
        expect(doc.store.pendingStructs, `round ${round}`).toBeNull();
      }
      expect(
        peers.map((p) => [p.refused, p.open()]),
        `round ${round}`,
      ).toEqual(peers.map(() => [0, 0]));
      const all = peers.flatMap((p) => [...p.acknowledged]);
      expect(
        all.filter((key) => !live.has(key)),
        `round ${round}: lost`,
      ).toEqual([]);
      acknowledged += all.length;
      at.hub.destroy();
    }
    console.log(`seed ${seed}: ${acknowledged} acknowledged, 0 lost`);
    expect(acknowledged).toBeGreaterThan(rounds * 20);
  }, 600_000);
});
