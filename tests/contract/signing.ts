import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Passkey } from '../../server/storage/passkeys.ts';
import type { Photo } from '../../server/storage/photos.ts';
import type { RecordsUnderTest } from './records.ts';

const t = (minute: number) => new Date(Date.UTC(2026, 0, 1, 0, minute)).toISOString();
const passkey = (id: string, over: Partial<Passkey> = {}): Passkey => ({
  ...{ id, accountId: 'a', name: 'Phone', rpId: 'localhost', key: '{}', counter: 0, createdAt: t(1), lastUsedAt: null },
  ...over,
});
const photo = (sha256: string, over: Partial<Photo> = {}): Photo => ({
  ...{ projectId: 'p', sha256, thumb: 't', width: 4, height: 3, bytes: 9, by: 'a', at: t(1) },
  ...over,
});

/** What every adapter has to do with passkeys and photos. */
export function signingContract(name: string, open: () => Promise<RecordsUnderTest>): void {
  describe(`${name}: passkeys and photos`, () => {
    let under: RecordsUnderTest;
    beforeEach(async () => {
      under = await open();
      const { records } = under;
      for (const id of ['a', 'b'])
        await records.addAccount({ id, login: id, name: `Name ${id}`, passwordHash: 'h', createdAt: t(0) });
      for (const id of ['p', 'q'])
        await records.addProject(
          { id, name: 'Job', createdAt: t(1) },
          { projectId: id, accountId: 'a', roles: ['lead'] },
        );
    });
    afterEach(() => under.dispose());

    it('keeps a passkey once, for its account, oldest first', async () => {
      const { records } = under;
      expect(await records.addPasskey(passkey('two', { createdAt: t(2) }))).toBe('added');
      expect(await records.addPasskey(passkey('one'))).toBe('added');
      expect(await records.addPasskey(passkey('one', { accountId: 'b' }))).toBe('taken');
      expect((await records.passkeys('a')).map(({ id }) => id)).toEqual(['one', 'two']);
      expect(await records.passkeys('b')).toEqual([]);
      await records.touchPasskey('one', { counter: 7, at: t(3) });
      expect(await records.passkey('one')).toEqual(passkey('one', { counter: 7, lastUsedAt: t(3) }));
    });

    it('lets nobody but its owner remove a passkey, and that once', async () => {
      const { records } = under;
      await records.addPasskey(passkey('one'));
      expect(await records.removePasskey('b', 'one')).toBe(false);
      expect(await records.removePasskey('a', 'one')).toBe(true);
      expect(await records.removePasskey('a', 'one')).toBe(false);
      expect(await records.passkey('one')).toBe(undefined);
    });

    it('keeps a photo once a project, as it came first', async () => {
      const { records } = under;
      expect(await records.addPhoto(photo('f'))).toEqual(photo('f'));
      expect(await records.addPhoto(photo('f', { by: 'b', at: t(9) }))).toEqual(photo('f'));
      expect(await records.addPhoto(photo('f', { projectId: 'q', by: 'b' }))).toMatchObject({ by: 'b' });
      expect(await records.photo('p', 'f')).toEqual(photo('f'));
      expect(await records.photo('p', 'g')).toBe(undefined);
    });
  });
}
