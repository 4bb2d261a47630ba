import * as decoding from 'lib0/decoding';
import { WebSocket as NodeSocket } from 'ws';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import { type DocumentName, MESSAGE_KEPT, MESSAGE_NOT_TAKEN, type NotTaken } from '../../shared/protocol/sync.ts';
import type { Signal } from './liveSignal.ts';

// Each provider listens for the end of the process; here are many.
process.setMaxListeners(0);

/** A y-websocket client that counts acknowledgements as the web app does. */
export interface LiveDocumentClient {
  readonly doc: Y.Doc;
  readonly map: Y.Map<unknown>;
  readonly provider: WebsocketProvider;
  /** Sets one entry; the number names the edit. */
  set(key: string, value: unknown): number;
  /** Makes any change; the number names it. */
  edit(change: () => void): number;
  /** Edits whose acknowledgement came. */
  readonly acknowledged: ReadonlySet<number>;
  /** Edits made whose acknowledgement did not come. */
  unconfirmed(): number;
  /** Journal number of the last acknowledgement. */
  readonly seq: () => number;
  readonly refused: readonly NotTaken[];
  /** Codes the socket was closed with by the server. */
  readonly closed: readonly number[];
  synced(): Promise<void>;
  /** Resolves once every edit so far is acknowledged. */
  kept(): Promise<void>;
  close(): void;
}

export interface LiveDocumentOptions {
  readonly origin: string;
  readonly cookie: string;
  readonly project: string;
  readonly name: DocumentName;
  readonly signal: Signal;
  readonly doc?: Y.Doc;
  readonly connect?: boolean;
}

/** Matches edits with the frames that carry them. */
class Ledger {
  sent = 0;
  readonly acknowledged = new Set<number>();
  private edits = 0;
  private pending: { readonly edit: number; frame: number }[] = [];

  opened(): void {
    this.sent = 0;
    for (const p of this.pending) p.frame = Number.POSITIVE_INFINITY;
  }

  frame(data: unknown): void {
    if (!(data instanceof Uint8Array) || data[0] !== 0 || data[1] === 0) return;
    this.sent += 1;
    // Step 2 carries all that the server did not have.
    if (data[1] === 1) for (const p of this.pending) p.frame = Math.min(p.frame, this.sent);
  }

  edit(change: () => void): number {
    const before = this.sent;
    const edit = this.edits++;
    const entry = { edit, frame: Number.POSITIVE_INFINITY };
    this.pending.push(entry);
    change();
    if (this.sent > before) entry.frame = this.sent;
    return edit;
  }

  kept(count: number): void {
    for (const p of this.pending) if (p.frame <= count) this.acknowledged.add(p.edit);
    this.pending = this.pending.filter((p) => p.frame > count);
  }

  open(): number {
    return this.pending.length;
  }
}

/** y-websocket in Node: the browser's cookie and origin have to be given by hand. */
function socketClass(ledger: Ledger, headers: Record<string, string>): typeof WebSocket {
  class CountingSocket extends NodeSocket {
    constructor(url: string) {
      super(url, { headers });
      ledger.opened();
    }
    override send(data: Parameters<NodeSocket['send']>[0]): void {
      ledger.frame(data);
      super.send(data);
    }
  }
  return CountingSocket as unknown as typeof WebSocket;
}

/** Opens one document of a project. */
export function openLiveDocument(options: LiveDocumentOptions): LiveDocumentClient {
  const { origin, cookie, project, name, signal } = options;
  const doc = options.doc ?? new Y.Doc({ gc: true });
  const ledger = new Ledger();
  const provider = new WebsocketProvider(`${origin.replace('http', 'ws')}/sync/${project}`, name, doc, {
    ...{ disableBc: true, maxBackoffTime: 200, connect: options.connect ?? true },
    WebSocketPolyfill: socketClass(ledger, { Cookie: cookie, Origin: origin }),
  });
  const refused: NotTaken[] = [];
  const closed: number[] = [];
  let seq = 0;
  provider.messageHandlers[MESSAGE_KEPT] = (_encoder, decoder) => {
    ledger.kept(decoding.readVarUint(decoder));
    seq = decoding.readVarUint(decoder);
    signal.fire();
  };
  provider.messageHandlers[MESSAGE_NOT_TAKEN] = (_encoder, decoder) => {
    refused.push(JSON.parse(decoding.readVarString(decoder)));
    signal.fire();
  };
  provider.on('connection-close', (event) => {
    if (event) closed.push(event.code);
    signal.fire();
  });
  provider.on('sync', () => signal.fire());
  provider.on('status', () => signal.fire());
  provider.awareness.on('update', () => signal.fire());
  doc.on('update', () => signal.fire());
  const map = doc.getMap<unknown>(name);
  return {
    ...{ doc, map, provider, refused, closed, acknowledged: ledger.acknowledged },
    set: (key, value) => ledger.edit(() => map.set(key, value)),
    edit: (change) => ledger.edit(() => doc.transact(change)),
    unconfirmed: () => ledger.open(),
    seq: () => seq,
    synced: () => signal.until(() => provider.synced, `the first sync of ${name}`),
    kept: () => signal.until(() => ledger.open() === 0, `acknowledgement of all edits of ${name}`),
    close: () => {
      provider.destroy();
      doc.destroy();
    },
  };
}
