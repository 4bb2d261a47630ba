import * as Y from 'yjs';
import type { DocumentHub } from '../sync/hub.ts';
import type { Refused } from '../sync/intake.ts';

/** Writes into a document for accounts that have no socket open: through the same intake, under the same rules. */
export class ScriptHands {
  /** One client id for each account: a new one for each request would fill the table of who wrote what. */
  private readonly clients = new Map<string, number>();

  /** Resolves with the journal number once it is on disk, or says why it was not taken. */
  write(hub: DocumentHub, account: string, change: (doc: Y.Doc) => void): Promise<number | Refused> {
    const doc = new Y.Doc({ gc: true });
    const { doc: ahead } = hub.ahead();
    if (ahead) Y.applyUpdate(doc, Y.encodeStateAsUpdate(ahead));
    const client = this.clients.get(account) ?? doc.clientID;
    // After what is there was applied: Yjs takes another id when it meets its own in what others sent.
    doc.clientID = client;
    this.clients.set(account, client);
    const before = Y.encodeStateVector(doc);
    doc.transact(() => change(doc));
    const update = Y.encodeStateAsUpdate(doc, before);
    doc.destroy();
    return hub.take(update, account);
  }
}
