import * as decoding from 'lib0/decoding';
import * as encoding from 'lib0/encoding';
import * as syncProtocol from 'y-protocols/sync';
import type * as Y from 'yjs';
import { MESSAGE_KEPT, MESSAGE_NOT_TAKEN, type NotTaken } from '../../shared/protocol/sync.ts';

const SYNC = 0;
/** Message type of presence. */
export const AWARENESS = 1;

/** A frame from a client, taken apart. */
export type Frame =
  | { readonly kind: 'step1'; readonly vector: Uint8Array }
  /** The answer to our step 1: all the client has that we lack. */
  | { readonly kind: 'step2'; readonly update: Uint8Array }
  | { readonly kind: 'update'; readonly update: Uint8Array }
  | { readonly kind: 'awareness'; readonly states: Uint8Array }
  | { readonly kind: 'other' };

/** Reads a frame; throws on one that ends early. */
export function readFrame(data: Uint8Array): Frame {
  const d = decoding.createDecoder(data);
  const type = decoding.readVarUint(d);
  if (type === SYNC) {
    const step = decoding.readVarUint(d);
    const body = decoding.readVarUint8Array(d);
    if (step === syncProtocol.messageYjsSyncStep1) return { kind: 'step1', vector: body };
    return { kind: step === syncProtocol.messageYjsSyncStep2 ? 'step2' : 'update', update: body };
  }
  if (type === AWARENESS) return { kind: 'awareness', states: decoding.readVarUint8Array(d) };
  return { kind: 'other' };
}

function frame(type: number, write: (e: encoding.Encoder) => void): Uint8Array {
  const e = encoding.createEncoder();
  encoding.writeVarUint(e, type);
  write(e);
  return encoding.toUint8Array(e);
}

/** Asks the client for what the server does not have. */
export const step1Frame = (doc: Y.Doc): Uint8Array => frame(SYNC, (e) => syncProtocol.writeSyncStep1(e, doc));

/** Answers a client's state vector with what it does not have. */
export const step2Frame = (doc: Y.Doc, vector: Uint8Array): Uint8Array =>
  frame(SYNC, (e) => syncProtocol.writeSyncStep2(e, doc, vector));

export const updateFrame = (update: Uint8Array): Uint8Array => frame(SYNC, (e) => syncProtocol.writeUpdate(e, update));

export const awarenessFrame = (states: Uint8Array): Uint8Array =>
  frame(AWARENESS, (e) => encoding.writeVarUint8Array(e, states));

export const keptFrame = (count: number, seq: number): Uint8Array =>
  frame(MESSAGE_KEPT, (e) => {
    encoding.writeVarUint(e, count);
    encoding.writeVarUint(e, seq);
  });

export const notTakenFrame = (message: NotTaken): Uint8Array =>
  frame(MESSAGE_NOT_TAKEN, (e) => encoding.writeVarString(e, JSON.stringify(message)));
