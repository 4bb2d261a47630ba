import { deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LivePerson, type LiveServer, liveServer } from '../../tests/support/live.ts';

let live: LiveServer;
let people: Record<'wes' | 'rita' | 'otto', LivePerson>;
let project: string;
beforeAll(async () => {
  live = await liveServer();
  const [wes, rita, otto] = await Promise.all(['wes', 'rita', 'otto'].map(live.person));
  if (!wes || !rita || !otto) throw new Error('nobody');
  people = { wes, rita, otto };
  project = await live.project({ ann: ['lead'], wes: ['welder'], rita: ['reviewer'] });
});
afterAll(() => live.close());

const plain = (width: number, height: number) =>
  sharp({ create: { width, height, channels: 3, background: '#a05020' } });

async function send(
  who: LivePerson | null,
  body: Uint8Array,
  headers = {},
): Promise<{ status: number; body: Record<string, unknown> }> {
  const answer = await fetch(new URL(`/api/projects/${project}/photos`, live.origin), {
    method: 'POST',
    headers: { Origin: live.origin, 'Content-Type': 'image/jpeg', ...(who && { Cookie: who.cookie }), ...headers },
    body: Buffer.from(body),
  });
  return { status: answer.status, body: Object(await answer.json()) };
}

const get = (who: LivePerson | null, path: string): Promise<Response> =>
  fetch(new URL(`/api/projects/${project}/photos/${path}`, live.origin), {
    headers: who ? { Cookie: who.cookie } : {},
  });

/** A PNG of one flat colour that unpacks to width x height pixels out of a few bytes. */
function bomb(width: number, height: number, rows = height): Buffer {
  const crcTable = Array.from({ length: 256 }, (_, n) => {
    let c = n;
    for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
    return c >>> 0;
  });
  const chunk = (name: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(name), data]);
    const crc = body.reduce((c, byte) => (crcTable[(c ^ byte) & 255] ?? 0) ^ (c >>> 8), 0xffffffff);
    const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    sum.writeUInt32BE((crc ^ 0xffffffff) >>> 0);
    return Buffer.concat([length, body, sum]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([1, 0, 0, 0, 0], 8);
  const pixels = deflateSync(Buffer.alloc(rows * (1 + Math.ceil(width / 8))), { level: 9 });
  const sign = Buffer.from('89504e470d0a1a0a', 'hex');
  return Buffer.concat([sign, chunk('IHDR', head), chunk('IDAT', pixels), chunk('IEND', Buffer.alloc(0))]);
}

describe('bringing a photo', () => {
  it('keeps upright pixels and nothing else: no place, no device', async () => {
    const exif = { IFD0: { Make: 'Secretmaker' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '48/1 8/1 0/1' } };
    const file = await plain(3000, 1200).withMetadata({ orientation: 6 }).withExifMerge(exif).jpeg().toBuffer();
    expect(file.toString('latin1')).toContain('Secretmaker');
    const { status, body } = await send(people.wes, file);
    expect({ status, body }).toMatchObject({
      status: 201,
      body: { width: 1024, height: 2560, by: people.wes.account.id },
    });
    const answer = await get(people.rita, String(body.sha256));
    const kept = Buffer.from(await answer.arrayBuffer());
    expect(kept.toString('latin1')).not.toMatch(/Secretmaker|Exif/);
    expect(await sharp(kept).metadata()).toMatchObject({ format: 'jpeg', width: 1024, height: 2560 });
    expect(Object.fromEntries(answer.headers)).toMatchObject({
      ...{ 'content-type': 'image/jpeg', 'x-content-type-options': 'nosniff' },
      'content-security-policy': "default-src 'none'; sandbox",
      'cache-control': expect.stringContaining('private'),
    });
    const thumb = Buffer.from(await (await get(people.rita, `${body.sha256}/thumb`)).arrayBuffer());
    expect(await sharp(thumb).metadata()).toMatchObject({ width: 128, height: 320 });
    // The same file again is the same photo.
    expect((await send(people.wes, file)).body).toEqual(body);
  });

  it.each(['png', 'webp', 'avif'] as const)('takes %s', async (format) => {
    expect(await send(people.wes, await plain(64, 48).toFormat(format).toBuffer())).toMatchObject({
      ...{ status: 201, body: { width: 64, height: 48 } },
    });
  });

  it('refuses what is no photo, is cut off, or unpacks to too much, and says so', async () => {
    const jpeg = await plain(400, 300).jpeg().toBuffer();
    const svg = Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>');
    const gif = await plain(9, 9).gif().toBuffer();
    const cases: Readonly<Record<string, readonly [Uint8Array, RegExp]>> = {
      empty: [new Uint8Array(), /no photo/],
      text: [Buffer.from('a photo, really'), /no photo/],
      svg: [svg, /no photo/],
      gif: [gif, /no photo/],
      'only a beginning': [jpeg.subarray(0, 20), /cut off/],
      'cut off': [jpeg.subarray(0, jpeg.length / 2), /cut off/],
      'a picture of 4,000 million pixels': [bomb(65_000, 62_000, 1), /too large/],
      'a bomb': [bomb(20_000, 20_000), /too large/],
      'a bomb that says less than it holds': [bomb(100, 100, 30_000_000 / 14), /./],
    };
    for (const [name, [file, words]] of Object.entries(cases)) {
      const { status, body } = await send(people.wes, file);
      if (name.includes('says less')) expect([201, 422], name).toContain(status);
      else expect({ status, body }, name).toMatchObject({ status: 422, body: { code: 'unreadable-photo' } });
      expect(String(body.detail), name).toMatch(words);
    }
    expect(await send(people.wes, Buffer.alloc(26 * 1024 * 1024, 0xff))).toMatchObject({ status: 413 });
    expect(await send(people.wes, jpeg, { 'Content-Encoding': 'gzip' })).toMatchObject({ status: 415 });
    expect(await send(people.wes, Buffer.from('{}'), { 'Content-Type': 'application/json' })).toMatchObject({
      status: 422,
    });
  });

  it('is for members who may edit; looking is for all members, in their own job', async () => {
    const jpeg = await plain(20, 10).jpeg().toBuffer();
    expect(await send(people.rita, jpeg)).toMatchObject({ status: 403 });
    expect(await send(people.otto, jpeg)).toMatchObject({ status: 404 });
    expect(await send(null, jpeg)).toMatchObject({ status: 401 });
    const { body } = await send(people.wes, jpeg);
    expect((await get(people.otto, String(body.sha256))).status).toBe(404);
    expect((await get(null, String(body.sha256))).status).toBe(401);
    expect((await get(people.rita, '0'.repeat(64))).status).toBe(404);
    const other = await live.project({ otto: ['lead'] });
    const path = new URL(`/api/projects/${other}/photos/${body.sha256}`, live.origin);
    expect((await fetch(path, { headers: { Cookie: people.otto.cookie } })).status).toBe(404);
  });
});
