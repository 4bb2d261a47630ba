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

/** Longest state of one client, and most states read of one message. */
const STATE_LIMIT = 2048;
const MAX_STATES = 64;

/** Presence of one document's connections. Each connection speaks for one client id, under its own identity. */
export class PresenceBoard {
  private readonly awareness: Awareness;
  private readonly speaking = new Map<unknown, number>();
  private readonly spoken = new Set<number>();

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

  /**
   * Takes a client's message; throws on a malformed one. Foreign client ids in it are ignored. True when it said something
   * new of the client's own: y-websocket also sends back whatever it hears of others.
   */
  take(connection: unknown, states: Uint8Array, identity: Identity): boolean {
    const d = decoding.createDecoder(states);
    const count = decoding.readVarUint(d);
    let spoke = false;
    for (let i = 0; i < Math.min(count, MAX_STATES); i++) {
      const client = decoding.readVarUint(d);
      const clock = decoding.readVarUint(d);
      const text = decoding.readVarString(d);
      if (!this.maySpeak(connection, client, text)) continue;
      spoke = true;
      this.apply({ client, clock, text }, identity, connection);
    }
    return spoke;
  }

  leave(connection: unknown): void {
    const client = this.speaking.get(connection);
    if (client === undefined) return;
    this.speaking.delete(connection);
    this.spoken.delete(client);
    removeAwarenessStates(this.awareness, [client], 'left');
    // Its clock is of no more use: without this every visit would leave one behind.
    this.awareness.meta.delete(client);
  }

  destroy(): void {
    this.awareness.destroy();
  }

  private maySpeak(connection: unknown, client: number, text: string): boolean {
    if (text.length > STATE_LIMIT) return false;
    const mine = this.speaking.get(connection);
    if (mine !== undefined) return mine === client;
    // The end of somebody else's presence, sent back to us, is no introduction.
    if (this.spoken.has(client) || text === 'null') return false;
    this.speaking.set(connection, client);
    this.spoken.add(client);
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
