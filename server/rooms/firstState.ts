import * as Y from 'yjs';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';

/** A spec document's first content as one update, and the client id it was written under. */
export function firstSpecUpdate(entries: ReadonlyMap<string, unknown>): {
  readonly update: Uint8Array;
  readonly clientId: number;
} {
  const doc = new Y.Doc({ gc: true });
  doc.transact(() => {
    const map = doc.getMap<unknown>(SPEC_ROOT);
    for (const [key, value] of entries) map.set(key, value);
  });
  const made = { update: Y.encodeStateAsUpdate(doc), clientId: doc.clientID };
  doc.destroy();
  return made;
}
