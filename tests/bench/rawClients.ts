import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { WebSocket } from 'ws';
import * as syncProtocol from 'y-protocols/sync';
import * as Y from 'yjs';
import { PROTOCOL } from '../../shared/protocol/events.ts';
import { MESSAGE_KEPT } from '../../shared/protocol/sync.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';

/** A verdict delta as it reached one client. */
export interface Arrival {
  readonly seq: number;
  /** Monotonic milliseconds. */
  readonly at: number;
}

/** A reviewer with the two sockets a page has, on bare WebSockets so that client libraries cost nothing. */
export interface RawReviewer {
  readonly arrivals: Arrival[];
  /** Length of the last delta frame, bytes. */
  lastBytes: number;
  /** Sends one edit: when it left, its bytes, and its journal number once it is kept. */
  edit(key: string, value: number): { readonly left: number; readonly bytes: number; readonly kept: Promise<number> };
  close(): void;
}

interface At {
  readonly origin: string;
  readonly cookie: string;
  readonly project: string;
}

/** The listener is there before the first message can be: it may come with the handshake's last bytes. */
function open(url: string, at: Pick<At, 'origin' | 'cookie'>, hear: (data: Buffer, on: WebSocket) => void): WebSocket {
  const socket = new WebSocket(url, { headers: { Cookie: at.cookie, Origin: at.origin }, perMessageDeflate: false });
  socket.on('message', (data: Buffer) => hear(data, socket));
  return socket;
}

const opened = (socket: WebSocket): Promise<void> =>
  new Promise((resolve, reject) => {
    socket.once('open', resolve);
    socket.once('error', reject);
  });

function frame(write: (e: encoding.Encoder) => void): Uint8Array {
  const e = encoding.createEncoder();
  encoding.writeVarUint(e, 0);
  write(e);
  return encoding.toUint8Array(e);
}

function presenceFrame(client: number): Uint8Array {
  const states = encoding.createEncoder();
  for (const n of [1, client, 1]) encoding.writeVarUint(states, n);
  encoding.writeVarString(states, '{"field":null}');
  const e = encoding.createEncoder();
  encoding.writeVarUint(e, 1);
  encoding.writeVarUint8Array(e, encoding.toUint8Array(states));
  return encoding.toUint8Array(e);
}

/** The document socket: a Y.Doc kept in step by hand, because an edit has to be a real one. */
async function openDocument(at: At): Promise<Pick<RawReviewer, 'edit' | 'close'>> {
  const doc = new Y.Doc();
  const kept: ((seq: number) => void)[] = [];
  // Taken in only before an edit: here all reviewers share one thread, and nobody's page waits for another's.
  const unread: Uint8Array[] = [];
  let synced = (): void => undefined;
  const ready = new Promise<void>((resolve) => {
    synced = resolve;
  });
  const url = `${at.origin.replace('http', 'ws')}/sync/${at.project}/spec`;
  const socket = open(url, at, (data, on) => {
    const d = decoding.createDecoder(data);
    const type = decoding.readVarUint(d);
    if (type === MESSAGE_KEPT) {
      decoding.readVarUint(d);
      kept.shift()?.(decoding.readVarUint(d));
    }
    if (type !== 0) return;
    const step = decoding.readVarUint(d);
    const body = decoding.readVarUint8Array(d);
    if (step === 0) {
      kept.push(() => undefined);
      on.send(frame((e) => syncProtocol.writeSyncStep2(e, doc, body)));
    } else unread.push(body);
    if (step === 1) synced();
  });
  let bytes = 0;
  doc.on('update', (update: Uint8Array, from: unknown) => {
    if (from === 'server') return;
    const message = frame((e) => syncProtocol.writeUpdate(e, update));
    bytes = message.length;
    socket.send(message);
  });
  await opened(socket);
  socket.send(frame((e) => syncProtocol.writeSyncStep1(e, doc)));
  socket.send(presenceFrame(doc.clientID));
  await ready;
  return {
    edit: (key, value) => {
      for (const update of unread.splice(0)) Y.applyUpdate(doc, update, 'server');
      const seq = new Promise<number>((resolve) => kept.push(resolve));
      const left = performance.now();
      doc.getMap<unknown>(SPEC_ROOT).set(key, value);
      return { left, bytes, kept: seq };
    },
    close: () => socket.terminate(),
  };
}

/** The feed socket: engine.io and socket.io by hand, so far as a reviewer needs them. */
function openFeed(at: At, reviewer: { arrivals: Arrival[]; lastBytes: number }): Promise<WebSocket> {
  const url = `${at.origin.replace('http', 'ws')}/feed/?EIO=4&transport=websocket`;
  return new Promise((resolve, reject) => {
    const socket = open(url, at, (data, on) => {
      const now = performance.now();
      const text = data.toString('latin1');
      if (text.startsWith('42["delta"')) {
        reviewer.arrivals.push({ seq: Number(/"seq":(\d+)/.exec(text)?.[1]), at: now });
        reviewer.lastBytes = data.length;
      } else if (text === '2') on.send('3');
      else if (text.startsWith('0{')) on.send('40');
      else if (text.startsWith('40')) {
        on.send(`42${JSON.stringify(['join', { project: at.project, protocol: PROTOCOL }])}`);
      } else if (text.startsWith('42["snapshot"')) resolve(on);
    });
    socket.once('error', reject);
  });
}

/** Opens both sockets of a reviewer and waits for first state and snapshot. */
export async function openReviewer(at: At): Promise<RawReviewer> {
  const heard: { arrivals: Arrival[]; lastBytes: number } = { arrivals: [], lastBytes: 600 };
  const document = await openDocument(at);
  const feed = await openFeed(at, heard);
  return Object.assign(heard, {
    edit: document.edit,
    close: () => {
      document.close();
      feed.terminate();
    },
  });
}

/** A client of the bare relay: knows when the text that follows each numbered message arrived. */
export interface RawRelayClient {
  readonly arrivals: Map<number, number>;
  /** Sends a message of so many bytes that asks for a text of so many; gives when it left. */
  send(number: number, bytes: number, textBytes: number): number;
  close(): void;
}

export async function openRelayClient(port: number): Promise<RawRelayClient> {
  const arrivals = new Map<number, number>();
  const at = { origin: '', cookie: '' };
  const document = open(`ws://127.0.0.1:${port}/document`, at, () => undefined);
  const feed = open(`ws://127.0.0.1:${port}/feed`, at, (data) => {
    const now = performance.now();
    const text = data.toString('latin1');
    if (text.startsWith('42["delta"')) arrivals.set(Number(/"seq":(\d+)/.exec(text)?.[1]), now);
  });
  await Promise.all([opened(document), opened(feed)]);
  return {
    arrivals,
    send: (number, bytes, textBytes) => {
      const message = Buffer.alloc(Math.max(8, bytes));
      message.writeUInt32LE(number, 0);
      message.writeUInt32LE(textBytes, 4);
      const left = performance.now();
      document.send(message);
      return left;
    },
    close: () => {
      document.terminate();
      feed.terminate();
    },
  };
}
