import type { WebSocket } from 'ws';
import type * as Y from 'yjs';
import { CLOSE_FORBIDDEN, CLOSE_RESYNC, CLOSE_TOO_MANY } from '../../shared/protocol/sync.ts';
import {
  AWARENESS,
  awarenessFrame,
  type Frame,
  keptFrame,
  notTakenFrame,
  readFrame,
  step1Frame,
  step2Frame,
  updateFrame,
} from './frames.ts';
import { Intake, type IntakeOptions, type Refused } from './intake.ts';
import { type Identity, PresenceBoard } from './presence.ts';

/** A peer that does not read is dropped once this much waits for it; it comes back and resyncs. */
const MAX_QUEUED_BYTES = 4 * 1024 * 1024;
/** Frames a connection may send: a burst, then so many a second. */
const RATE = { burst: 240, perSecond: 120 } as const;
/** y-websocket sends everybody's presence back to us, so one change costs every client present a frame. */
const PRESENCE_SHARE = 0.05;

const NOBODY = awarenessFrame(Uint8Array.of(0));

interface Connection {
  readonly socket: WebSocket;
  readonly identity: Identity;
  readonly canWrite: boolean;
  readonly session: string;
  /** False until its step 2 came. Changes sent before that are in it again, and may build on what only it brings. */
  caughtUp: boolean;
  /** Changes received so far; acknowledged in order. */
  received: number;
  acknowledged: Promise<void>;
  /** Set at the first refusal: what it sent after that builds on what was refused. */
  refused: boolean;
  tokens: number;
  refilled: number;
}

export interface HubOptions extends Omit<IntakeOptions, 'applied'> {
  /** Monotonic milliseconds. */
  readonly now: () => number;
  /** After a change is in the live document. */
  readonly applied: (seq: number) => void;
  readonly refused: (refused: Refused, account: string) => void;
  readonly rate?: { readonly burst: number; readonly perSecond: number };
  readonly later?: Later;
}

/** Puts off what need not be in this turn. */
export type Later = (run: () => void) => void;

/** A crowd gets others' changes this much later, ms: by then the verdicts on them are out, and what came meanwhile goes in one go. */
const CROWD_AFTER_MS = 8;

export const afterVerdicts: Later = (run) => void setTimeout(run, CROWD_AFTER_MS);

/** All connections on one document: takes changes in, acknowledges them once they are on disk, passes them on, shows presence. */
export class DocumentHub {
  readonly doc: Y.Doc;
  private readonly options: HubOptions;
  private readonly intake: Intake;
  private readonly presence: PresenceBoard;
  private readonly later: Later;
  private readonly rate: { readonly burst: number; readonly perSecond: number };
  private readonly connections = new Set<Connection>();
  private outgoing: { readonly bytes: Uint8Array; readonly from: unknown }[] = [];

  constructor(doc: Y.Doc, options: HubOptions) {
    this.doc = doc;
    this.rate = options.rate ?? RATE;
    this.later = options.later ?? afterVerdicts;
    this.options = options;
    this.intake = new Intake(doc, { ...options, applied: (update, from, seq) => this.spread(update, from, seq) });
    this.presence = new PresenceBoard(doc, (states, from) => this.spreadPresence(awarenessFrame(states), from));
  }

  /** Takes a socket over. Who may open the document at all was decided before the upgrade. `session` names what ends it; nobody is shown it. */
  join(socket: WebSocket, identity: Identity, canWrite: boolean, session: string): void {
    const connection: Connection = {
      socket,
      identity,
      canWrite,
      session,
      caughtUp: false,
      received: 0,
      acknowledged: Promise.resolve(),
      refused: false,
      tokens: this.rate.burst,
      refilled: this.options.now(),
    };
    this.connections.add(connection);
    socket.binaryType = 'nodebuffer';
    socket.on('message', (data: Buffer) => this.onMessage(connection, data));
    // ws closes the socket itself, with the code that says why.
    socket.on('error', () => undefined);
    socket.on('close', () => {
      this.connections.delete(connection);
      this.presence.leave(connection);
    });
    // What its last link brought may still be on the way to disk: asked for now, it would come again joined to newer changes.
    if (this.intake.busy()) void this.intake.settled().then(() => this.send(connection, step1Frame(this.doc)));
    else this.send(connection, step1Frame(this.doc));
    const present = this.presence.all();
    if (present) this.send(connection, awarenessFrame(present));
  }

  /** What the document holds once all that is on its way to disk is there. */
  ahead(): Y.Map<unknown> {
    return this.intake.ahead();
  }

  /** Takes in a change that came without a socket. Whether the account may write here was decided before. */
  async take(update: Uint8Array, account: string): Promise<number | Refused> {
    const result = await this.intake.take(update, { account, from: null, canWrite: true });
    if (typeof result !== 'number') this.options.refused(result, account);
    return result;
  }

  /** Something is on its way to disk. */
  busy(): boolean {
    return this.intake.busy();
  }

  /** Nobody is connected and nothing is on its way to disk. */
  idle(): boolean {
    return this.connections.size === 0 && !this.intake.busy();
  }

  /** Ends the sockets of an account whose rights changed. */
  expel(account: string): void {
    for (const c of this.connections)
      if (c.identity.account === account) this.end(c, CLOSE_FORBIDDEN, 'rights changed');
  }

  /** Ends the sockets of a session that was signed out or ran out. */
  endSession(session: string): void {
    for (const c of this.connections) if (c.session === session) this.end(c, CLOSE_FORBIDDEN, 'signed out');
  }

  destroy(): void {
    for (const c of this.connections) c.socket.close(1001, 'server stops');
    this.presence.destroy();
    this.intake.destroy();
  }

  private onMessage(connection: Connection, data: Buffer): void {
    if (connection.refused) return;
    if (this.spend(connection, data[0] === AWARENESS ? PRESENCE_SHARE : 1)) this.onFrame(connection, data);
    else this.end(connection, CLOSE_TOO_MANY, 'too many messages');
  }

  private onFrame(connection: Connection, data: Buffer): void {
    try {
      const frame: Frame = readFrame(data);
      if (frame.kind === 'awareness') this.onPresence(connection, frame.states);
      if (frame.kind === 'step1') this.send(connection, step2Frame(this.doc, frame.vector));
      if (frame.kind === 'step2') connection.caughtUp = true;
      if (frame.kind === 'step2' || frame.kind === 'update') this.onUpdate(connection, frame.update);
    } catch {
      this.end(connection, 1003, 'a message could not be read');
    }
  }

  private onPresence(connection: Connection, states: Uint8Array): void {
    const client = this.presence.take(connection, states, connection.identity);
    if (client === null) return;
    if (connection.canWrite) this.intake.introduce(client, connection.identity.account);
    if (!this.spend(connection, 1)) this.end(connection, CLOSE_TOO_MANY, 'too many messages');
  }

  private end(connection: Connection, code: number, reason: string): void {
    connection.refused = true;
    connection.socket.close(code, reason);
  }

  private onUpdate(connection: Connection, update: Uint8Array): void {
    connection.received += 1;
    if (!connection.caughtUp) return;
    const number = connection.received;
    const { identity, canWrite } = connection;
    const result = this.intake.take(update, { account: identity.account, from: connection, canWrite });
    void result.then((r) => {
      connection.refused ||= typeof r !== 'number';
    });
    connection.acknowledged = connection.acknowledged.then(async () => this.answer(connection, number, await result));
  }

  private answer(connection: Connection, number: number, result: number | Refused): void {
    if (typeof result === 'number') {
      this.send(connection, keptFrame(number, result));
      return;
    }
    this.options.refused(result, connection.identity.account);
    this.send(connection, notTakenFrame({ code: result.code, reason: result.reason }));
    const resync = result.code === 'gap' || result.code === 'not-kept';
    this.end(connection, resync ? CLOSE_RESYNC : CLOSE_FORBIDDEN, result.code);
  }

  private spread(update: Uint8Array, from: unknown, seq: number): void {
    this.options.applied(seq);
    if (this.outgoing.length === 0) this.later(() => this.sendOutgoing());
    this.outgoing.push({ bytes: updateFrame(update), from });
  }

  private sendOutgoing(): void {
    const changes = this.outgoing;
    this.outgoing = [];
    for (const { bytes, from } of changes) {
      for (const c of this.connections) if (c !== from) this.send(c, bytes);
    }
  }

  private spreadPresence(bytes: Uint8Array, from: unknown): void {
    // y-websocket takes a link for dead on which not even its own presence comes back.
    for (const c of this.connections) this.send(c, c === from ? NOBODY : bytes);
  }

  private send({ socket }: Connection, bytes: Uint8Array): void {
    if (socket.readyState !== socket.OPEN) return;
    if (socket.bufferedAmount > MAX_QUEUED_BYTES) socket.terminate();
    else socket.send(bytes);
  }

  private spend(connection: Connection, cost: number): boolean {
    const now = this.options.now();
    const earned = ((now - connection.refilled) / 1000) * this.rate.perSecond;
    connection.tokens = Math.min(this.rate.burst, connection.tokens + earned) - cost;
    connection.refilled = now;
    return connection.tokens >= 0;
  }
}
