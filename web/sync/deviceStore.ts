/** Keeps a document's updates on this device, so that a closed page or a dead link loses nothing. */
export interface DeviceStore {
  /** Everything kept for the document, oldest first. */
  load(): Promise<readonly Uint8Array[]>;
  /** Resolves once the browser has committed it. */
  keep(update: Uint8Array): Promise<void>;
  /** Replaces all that is kept by one state. */
  compact(state: Uint8Array): Promise<void>;
  /** Forgets the document on this device. */
  clear(): Promise<void>;
}

const STORE = 'updates';

function done(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error);
  });
}

function openDatabase(name: string): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE, { autoIncrement: true });
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** Opens the store of one document for one account. Rejects where the browser keeps nothing (private windows, full disk). */
export async function openDeviceStore(account: string, project: string, document: string): Promise<DeviceStore> {
  const db = await openDatabase(`slipjoint/${account}/${project}/${document}`);
  const write = async (act: (store: IDBObjectStore) => void): Promise<void> => {
    const transaction = db.transaction(STORE, 'readwrite', { durability: 'strict' });
    act(transaction.objectStore(STORE));
    await done(transaction);
  };
  return {
    load: () =>
      new Promise((resolve, reject) => {
        const request = db.transaction(STORE).objectStore(STORE).getAll();
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      }),
    keep: (update) => write((store) => store.add(update)),
    compact: (state) =>
      write((store) => {
        store.clear();
        store.add(state);
      }),
    clear: () => write((store) => store.clear()),
  };
}
