import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Blobs } from '../../server/storage/ports.ts';

export interface BlobsUnderTest {
  readonly blobs: Blobs;
  /** A folder for files of the test itself, on the same file system. */
  readonly folder: string;
  dispose(): Promise<void>;
}

const content = Uint8Array.from({ length: 300_000 }, (_, index) => (index * 31) & 255);
const sha256 = createHash('sha256').update(content).digest('hex');
const absent = '0'.repeat(64);

async function drain(stream: Readable | undefined): Promise<Buffer | undefined> {
  if (!stream) return undefined;
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk);
  return Buffer.concat(chunks);
}

/** What every blob store promises. */
export function blobsContract(name: string, make: () => Promise<BlobsUnderTest>): void {
  describe(`blobs: ${name}`, () => {
    let under: BlobsUnderTest;
    beforeEach(async () => {
      under = await make();
    });
    afterEach(() => under.dispose());

    it('keeps bytes under their hash and gives the same back', async () => {
      expect(await under.blobs.write(content)).toEqual({ sha256, bytes: content.length });
      expect(await drain(await under.blobs.read(sha256))).toEqual(Buffer.from(content));
      const file = await under.blobs.localFile(sha256);
      expect(file && readFileSync(file)).toEqual(Buffer.from(content));
      expect(await under.blobs.verify(sha256)).toBe(true);
    });

    it('takes a file over and leaves nothing at its old place', async () => {
      const file = join(under.folder, 'scan.ply');
      writeFileSync(file, content);
      expect(await under.blobs.adopt(file)).toEqual({ sha256, bytes: content.length });
      expect(existsSync(file)).toBe(false);
      expect(await under.blobs.verify(sha256)).toBe(true);
    });

    it('keeps the same content once', async () => {
      await under.blobs.write(content);
      expect((await under.blobs.write(content)).sha256).toBe(sha256);
      await under.blobs.remove(sha256);
      expect(await under.blobs.localFile(sha256)).toBeUndefined();
    });

    it('says undefined or false for what it does not keep', async () => {
      expect(await under.blobs.localFile(absent)).toBeUndefined();
      expect(await under.blobs.read(absent)).toBeUndefined();
      expect(await under.blobs.verify(absent)).toBe(false);
      await under.blobs.remove(absent);
    });

    it('notices one flipped bit', async () => {
      await under.blobs.write(content);
      const file = await under.blobs.localFile(sha256);
      const spoiled = Uint8Array.from(content);
      spoiled[123] = (spoiled[123] ?? 0) ^ 1;
      writeFileSync(file ?? '', spoiled);
      expect(await under.blobs.verify(sha256)).toBe(false);
    });

    it.each(['../../etc/passwd', 'A'.repeat(64), 'abc', ''])('refuses %j as a name', async (text) => {
      await expect(under.blobs.read(text)).rejects.toThrow('not a SHA-256');
    });
  });
}
