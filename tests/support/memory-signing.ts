import type { Passkey, PasskeyRecords } from '../../server/storage/passkeys.ts';
import type { Photo, PhotoRecords } from '../../server/storage/photos.ts';

/** Passkeys and photos that end with the process. */
export class MemorySigning implements PasskeyRecords, PhotoRecords {
  #passkeys = new Map<string, Passkey>();
  #photos = new Map<string, Photo>();

  async addPasskey(passkey: Passkey) {
    if (this.#passkeys.has(passkey.id)) return 'taken';
    this.#passkeys.set(passkey.id, passkey);
    return 'added';
  }
  async passkeys(accountId: string) {
    return [...this.#passkeys.values()]
      .filter((one) => one.accountId === accountId)
      .sort((a, b) => (a.createdAt + a.id < b.createdAt + b.id ? -1 : 1));
  }
  async passkey(id: string) {
    return this.#passkeys.get(id);
  }
  async touchPasskey(id: string, { counter, at }: { readonly counter: number; readonly at: string }) {
    const there = this.#passkeys.get(id);
    if (there) this.#passkeys.set(id, { ...there, counter, lastUsedAt: at });
  }
  async removePasskey(accountId: string, id: string) {
    return this.#passkeys.get(id)?.accountId === accountId && this.#passkeys.delete(id);
  }

  async addPhoto(photo: Photo) {
    const name = `${photo.projectId}/${photo.sha256}`;
    const there = this.#photos.get(name);
    if (!there) this.#photos.set(name, photo);
    return there ?? photo;
  }
  async photo(projectId: string, sha256: string) {
    return this.#photos.get(`${projectId}/${sha256}`);
  }
}
