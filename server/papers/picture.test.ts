import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { pictureBytes } from '../../shared/protocol/papers.ts';
import { readPicture } from './picture.ts';

const square = sharp({ create: { width: 30, height: 20, channels: 4, background: { r: 9, g: 9, b: 9, alpha: 0.5 } } });

describe('a picture that was sent', () => {
  it.each(['png', 'jpeg'] as const)('as %s is written anew as JPEG of the same size', async (format) => {
    const picture = await readPicture(await square.clone().toFormat(format).toBuffer());
    if (!picture.ok) throw new Error(picture.came);
    expect(await sharp(picture.bytes).metadata()).toMatchObject({ format: 'jpeg', width: 30, height: 20 });
  });

  it('leaves behind what came along with it', async () => {
    const sent = await square
      .clone()
      .withExif({ IFD0: { Copyright: 'where I live' } })
      .jpeg()
      .toBuffer();
    const picture = await readPicture(sent);
    if (!picture.ok) throw new Error(picture.came);
    expect((await sharp(sent).metadata()).exif).toBeDefined();
    expect((await sharp(picture.bytes).metadata()).exif).toBeUndefined();
  });

  it('is refused when it is cut short, no picture, of another kind or too large', async () => {
    const png = await square.clone().png().toBuffer();
    const cases: readonly (readonly [Uint8Array, RegExp])[] = [
      [png.subarray(0, png.length - 30), /whole PNG or JPEG/],
      [Buffer.from('%PDF-1.7 no picture'), /whole PNG or JPEG/],
      [Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'), /PNG or JPEG/],
      [await square.clone().webp().toBuffer(), /PNG or JPEG/],
      [new Uint8Array(pictureBytes + 1), /at most/],
      [new Uint8Array(0), /whole PNG or JPEG/],
    ];
    for (const [sent, expected] of cases)
      expect(await readPicture(sent)).toMatchObject({ ok: false, expected: expect.stringMatching(expected) });
  });

  it('is refused when it would unfold to more than can be held', async () => {
    const wide = await sharp({ create: { width: 5000, height: 5000, channels: 3, background: 'white' } })
      .png()
      .toBuffer();
    expect(wide.length).toBeLessThan(pictureBytes);
    expect(await readPicture(wide)).toMatchObject({ ok: false });
  });
});
