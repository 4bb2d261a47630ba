import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { Awareness, applyAwarenessUpdate, encodeAwarenessUpdate, removeAwarenessStates } from 'y-protocols/awareness';
import type * as Y from 'yjs';

/** Who a connection is; the server writes it into every presence state, whatever the client claims. */
export interface Identity {
  readonly account: string;
  readonly name: string;
  readonly roles: readonly string[];
}

const STATE_LIMIT = 2048;

/** Presence of one document's connections. Each connection speaks for one client id, under its own identity. */
export class PresenceBoard {
  private readonly awareness: Awareness;
  private readonly speaking = new Map<unknown, number>();

  constructor(doc: Y.Doc, broadcast: (states: Uint8Array) => void) {
    this.awareness = new Awareness(doc);
    this.awareness.setLocalState(null);
    this.awareness.on(
      'update',
      ({ added, updated, removed }: { added: number[]; updated: number[]; removed: number[] }) => {
        broadcast(encodeAwarenessUpdate(this.awareness, [...added, ...updated, ...removed]));
      },
    );
  }

  /** Everybody present, or null when nobody is. */
  all(): Uint8Array | null {
    const ids = [...this.awareness.getStates().keys()];
    return ids.length > 0 ? encodeAwarenessUpdate(this.awareness, ids) : null;
  }

  /** Takes a client's message; throws on a malformed one. Foreign client ids in it are ignored. */
  take(connection: unknown, states: Uint8Array, identity: Identity): void {
    const d = decoding.createDecoder(states);
    const count = decoding.readVarUint(d);
    for (let i = 0; i < Math.min(count, 64); i++) {
      const client = decoding.readVarUint(d);
      const clock = decoding.readVarUint(d);
      const text = decoding.readVarString(d);
      if (this.mayspeak(connection, client, text)) this.apply({ client, clock, text }, identity, connection);
    }
  }

  leave(connection: unknown): void {
    const client = this.speaking.get(connection);
    this.speaking.delete(connection);
    if (client !== undefined) removeAwarenessStates(this.awareness, [client], 'left');
  }

  destroy(): void {
    this.awareness.destroy();
  }

  private mayspeak(connection: unknown, client: number, text: string): boolean {
    if (text.length > STATE_LIMIT) return false;
    const mine = this.speaking.get(connection);
    if (mine !== undefined) return mine === client;
    if ([...this.speaking.values()].includes(client)) return false;
    this.speaking.set(connection, client);
    return true;
  }

  private apply(state: { client: number; clock: number; text: string }, identity: Identity, connection: unknown): void {
    const claimed: unknown = JSON.parse(state.text);
    const field =
      typeof claimed === 'object' && claimed !== null && 'field' in claimed && typeof claimed.field === 'string'
        ? claimed.field.slice(0, 200)
        : null;
    const e = encoding.createEncoder();
    encoding.writeVarUint(e, 1);
    encoding.writeVarUint(e, state.client);
    encoding.writeVarUint(e, state.clock);
    encoding.writeVarString(e, claimed === null ? 'null' : JSON.stringify({ ...identity, field }));
    applyAwarenessUpdate(this.awareness, encoding.toUint8Array(e), connection);
  }
}
