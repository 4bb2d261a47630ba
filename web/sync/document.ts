import * as decoding from 'lib0/decoding';
import { WebsocketProvider } from 'y-websocket';
import * as Y from 'yjs';
import {
  type DocumentName,
  MESSAGE_KEPT,
  MESSAGE_NOT_TAKEN,
  type NotTaken,
  type Presence,
} from '../../shared/protocol/sync.ts';
import { createStore, type Store } from '../state/store.ts';
import { type DeviceStore, openDeviceStore } from './deviceStore.ts';

/** Where this device's edits are. Never merged into one "saved". */
export interface KeepState {
  readonly link: 'connecting' | 'connected' | 'offline';
  /** Edits of this device that the server has not confirmed. */
  readonly unconfirmed: number;
  /** Edits the device itself has not committed yet. */
  readonly unkept: number;
  /** False when this browser cannot keep anything: shown before the person types. */
  readonly deviceKeeps: boolean;
  /** Journal number of the last confirmed change. */
  readonly seq: number;
}

/** A live document: its Y.Doc, where its edits are kept, and who is present. */
export interface LiveDocument {
  readonly doc: Y.Doc;
  readonly keep: Store<KeepState>;
  readonly present: Store<readonly (Presence & { readonly client: number; readonly me: boolean })[]>;
  readonly refused: Store<NotTaken | null>;
  /** Resolves when the first state, from device or server, is in. */
  readonly loaded: Promise<void>;
  showField(path: string | null): void;
  /** Tells the others of a file that is being sent; null when none is any more. */
  showBringing(words: string | null): void;
  /** Forgets what this device kept of the document. */
  forget(): Promise<void>;
  close(): void;
}

/** Counts the changes a socket sends, so that an acknowledgement by count can be matched. */
function countingSocket(counter: { sent: number }): typeof WebSocket {
  return class extends WebSocket {
    constructor(url: string | URL, protocols?: string | string[]) {
      super(url, protocols);
      counter.sent = 0;
    }
    override send(data: string | Blob | BufferSource): void {
      if (data instanceof Uint8Array && data[0] === 0 && (data[1] === 1 || data[1] === 2)) counter.sent += 1;
      super.send(data);
    }
  };
}

export interface OpenOptions {
  readonly account: string;
  readonly project: string;
  readonly name: DocumentName;
}

export function openDocument(options: OpenOptions): LiveDocument {
  const doc = new Y.Doc({ gc: true });
  const counter = { sent: 0 };
  const scheme = location.protocol === 'https:' ? 'wss' : 'ws';
  const provider = new WebsocketProvider(`${scheme}://${location.host}/sync/${options.project}`, options.name, doc, {
    connect: false,
    disableBc: true,
    maxBackoffTime: 2000,
    WebSocketPolyfill: countingSocket(counter),
  });
  const keep = createStore<KeepState>({ link: 'connecting', unconfirmed: 0, unkept: 0, deviceKeeps: true, seq: 0 });
  const patch = (change: Partial<KeepState>): void => keep.set({ ...keep.get(), ...change });
  const refused = createStore<NotTaken | null>(null);
  listenForAnswers(provider, { counter, patch, refused, unconfirmed: () => keep.get().unconfirmed });
  const device = keepOnDevice(doc, provider, { ...options, patch, keep });
  const stopLink = followLink(provider, patch);
  const present = followPresence(provider);
  const loaded = device.ready.then(() => {
    provider.connect();
    return whenSynced(provider, doc);
  });
  return {
    doc,
    keep,
    present,
    refused,
    loaded,
    showField: (field) => provider.awareness.setLocalStateField('field', field),
    showBringing: (brings) => provider.awareness.setLocalStateField('brings', brings),
    forget: device.forget,
    close() {
      stopLink();
      provider.destroy();
      doc.destroy();
    },
  };
}

interface Answers {
  readonly counter: { sent: number };
  readonly patch: (change: Partial<KeepState>) => void;
  readonly refused: Store<NotTaken | null>;
  readonly unconfirmed: () => number;
}

function listenForAnswers(provider: WebsocketProvider, { counter, patch, refused }: Answers): void {
  provider.messageHandlers[MESSAGE_KEPT] = (_encoder, decoder) => {
    const count = decoding.readVarUint(decoder);
    const seq = decoding.readVarUint(decoder);
    patch(count >= counter.sent ? { unconfirmed: 0, seq } : { seq });
  };
  provider.messageHandlers[MESSAGE_NOT_TAKEN] = (_encoder, decoder) => {
    const message: NotTaken = JSON.parse(decoding.readVarString(decoder));
    // A gap heals at the next connection, and what could not be stored is sent again then; the rest needs the person.
    if (message.code !== 'gap' && message.code !== 'not-kept') {
      provider.disconnect();
      refused.set(message);
    }
  };
}

interface DeviceKeeping extends OpenOptions {
  readonly patch: (change: Partial<KeepState>) => void;
  readonly keep: Store<KeepState>;
}

function keepOnDevice(
  doc: Y.Doc,
  provider: WebsocketProvider,
  { patch, keep, ...options }: DeviceKeeping,
): { ready: Promise<void>; forget: () => Promise<void> } {
  let store: DeviceStore | null = null;
  const fromDevice = Symbol('device');
  doc.on('update', (update: Uint8Array, origin: unknown) => {
    if (origin === fromDevice) return;
    if (origin !== provider) patch({ unconfirmed: keep.get().unconfirmed + 1, unkept: keep.get().unkept + 1 });
    store
      ?.keep(update)
      .then(() => origin !== provider && patch({ unkept: Math.max(0, keep.get().unkept - 1) }))
      .catch(() => patch({ deviceKeeps: false }));
  });
  const ready = openDeviceStore(options.account, options.project, options.name)
    .then(async (opened) => {
      store = opened;
      const updates = await opened.load();
      doc.transact(() => {
        for (const update of updates) Y.applyUpdate(doc, update, fromDevice);
      }, fromDevice);
      if (updates.length > 200) await opened.compact(Y.encodeStateAsUpdate(doc));
    })
    .catch(() => patch({ deviceKeeps: false }));
  return { ready, forget: async () => store?.clear() };
}

/** The browser knows at once when the link is gone; the socket only after a silence. */
function followLink(provider: WebsocketProvider, patch: (change: Partial<KeepState>) => void): () => void {
  provider.on('status', ({ status }: { status: string }) => {
    patch({ link: status === 'connected' ? 'connected' : navigator.onLine ? 'connecting' : 'offline' });
  });
  const offline = (): void => {
    provider.disconnect();
    patch({ link: 'offline' });
  };
  const online = (): void => provider.connect();
  window.addEventListener('offline', offline);
  window.addEventListener('online', online);
  return () => {
    window.removeEventListener('offline', offline);
    window.removeEventListener('online', online);
  };
}

function followPresence(provider: WebsocketProvider): LiveDocument['present'] {
  const present = createStore<readonly (Presence & { client: number; me: boolean })[]>([]);
  provider.awareness.on('change', () => {
    const people: (Presence & { client: number; me: boolean })[] = [];
    for (const [client, state] of provider.awareness.getStates()) {
      if (typeof state.account !== 'string' || typeof state.name !== 'string') continue;
      const { account, name, roles, field, brings } = state;
      people.push({
        account,
        name,
        roles: roles ?? [],
        field: field ?? null,
        ...(typeof brings === 'string' && { brings }),
        client,
        me: client === provider.doc.clientID,
      });
    }
    present.set(people);
  });
  provider.awareness.setLocalState({ field: null });
  return present;
}

/** Resolves at the first sync, or at once when the device already had something and the server cannot be reached. */
function whenSynced(provider: WebsocketProvider, doc: Y.Doc): Promise<void> {
  if (doc.store.clients.size > 0) return Promise.resolve();
  return new Promise((resolve) => {
    const check = (synced: boolean): void => {
      if (!synced) return;
      provider.off('sync', check);
      resolve();
    };
    provider.on('sync', check);
  });
}
