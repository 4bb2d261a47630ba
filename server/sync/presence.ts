import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import { Awareness, applyAwarenessUpdate, encodeAwarenessUpdate, removeAwarenessStates } from 'y-protocols/awareness';
import type * as Y from 'yjs';
import { bringsLimit } from '../../shared/protocol/sync.ts';

/** Who a connection is; the server writes it into every presence state, whatever the client claims. */
export interface Identity {
  readonly account: string;
  readonly name: string;
  readonly roles: readonly string[];
}

interface Claim {
  readonly client: number;
  readonly clock: number;
  readonly text: string;
}

/** What a connection speaks for. A client that comes back goes on with the clock it left with, which others would ignore: it is put ahead. */
interface Voice {
  readonly client: number;
  readonly ahead: number;
}

/** Clients remembered after they left. */
const MAX_LEFT = 1000;
/** Longest state of one client, and most states read of one message. */
const STATE_LIMIT = 2048;
const MAX_STATES = 64;

/** Presence of one document's connections. Each connection speaks for one client id, under its own identity. */
export class PresenceBoard {
  private readonly awareness: Awareness;
  private readonly speaking = new Map<unknown, Voice>();
  private readonly spoken = new Set<number>();
  /** Last clock of clients that left. */
  private readonly left = new Map<number, number>();

  /** @param broadcast sends states on to everybody but the connection that brought them */
  constructor(doc: Y.Doc, broadcast: (states: Uint8Array, from: unknown) => void) {
    this.awareness = new Awareness(doc);
    this.awareness.setLocalState(null);
    this.awareness.on(
      'update',
      ({ added, updated, removed }: { added: number[]; updated: number[]; removed: number[] }, from: unknown) => {
        broadcast(encodeAwarenessUpdate(this.awareness, [...added, ...updated, ...removed]), from);
      },
    );
  }

  /** Everybody present, or null when nobody is. */
  all(): Uint8Array | null {
    const ids = [...this.awareness.getStates().keys()];
    return ids.length > 0 ? encodeAwarenessUpdate(this.awareness, ids) : null;
  }

  /**
   * Takes a client's message; throws on a malformed one. Foreign client ids in it are ignored. Gives the client's own id when it
   * spoke of that: y-websocket also sends back whatever it hears of others.
   */
  take(connection: unknown, states: Uint8Array, identity: Identity): number | null {
    const d = decoding.createDecoder(states);
    const count = decoding.readVarUint(d);
    let spoke: number | null = null;
    for (let i = 0; i < Math.min(count, MAX_STATES); i++) {
      const client = decoding.readVarUint(d);
      const clock = decoding.readVarUint(d);
      const text = decoding.readVarString(d);
      const voice = text.length <= STATE_LIMIT ? this.voice(connection, { client, clock, text }) : null;
      if (!voice) continue;
      spoke = client;
      this.apply({ client, clock: clock + voice.ahead, text }, identity, connection);
    }
    return spoke;
  }

  leave(connection: unknown): void {
    const voice = this.speaking.get(connection);
    if (!voice) return;
    const { client } = voice;
    this.speaking.delete(connection);
    this.spoken.delete(client);
    removeAwarenessStates(this.awareness, [client], 'left');
    this.left.set(client, this.awareness.meta.get(client)?.clock ?? 0);
    this.awareness.meta.delete(client);
    const [oldest] = this.left.keys();
    if (this.left.size > MAX_LEFT && oldest !== undefined) this.left.delete(oldest);
  }

  destroy(): void {
    this.awareness.destroy();
  }

  /** The client's own voice, given at its first word; null for what is said of others. */
  private voice(connection: unknown, { client, clock, text }: Claim): Voice | null {
    const own = this.speaking.get(connection);
    if (own) return own.client === client ? own : null;
    // The end of somebody else's presence, sent back to us, is no introduction.
    if (this.spoken.has(client) || text === 'null') return null;
    const voice = { client, ahead: Math.max(0, (this.left.get(client) ?? -1) + 1 - clock) };
    this.speaking.set(connection, voice);
    this.spoken.add(client);
    return voice;
  }

  private apply(state: Claim, identity: Identity, connection: unknown): void {
    const claimed: unknown = JSON.parse(state.text);
    const field = textIn(claimed, 'field', 200);
    const brings = textIn(claimed, 'brings', bringsLimit);
    const shown = { ...identity, field, ...(brings !== null && { brings }) };
    const e = encoding.createEncoder();
    encoding.writeVarUint(e, 1);
    encoding.writeVarUint(e, state.client);
    encoding.writeVarUint(e, state.clock);
    encoding.writeVarString(e, claimed === null ? 'null' : JSON.stringify(shown));
    applyAwarenessUpdate(this.awareness, encoding.toUint8Array(e), connection);
  }
}

/** A member of what a client claims, if that is text; cut to what is passed on. */
function textIn(claimed: unknown, key: string, limit: number): string | null {
  if (typeof claimed !== 'object' || claimed === null) return null;
  const value: unknown = Reflect.get(claimed, key);
  return typeof value === 'string' ? value.slice(0, limit) : null;
}
