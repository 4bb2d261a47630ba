import sharp from 'sharp';
import { pictureBytes } from '../../shared/protocol/papers.ts';

/** A picture as it is printed, or what was expected and what came. */
export type Picture =
  | { readonly ok: true; readonly bytes: Uint8Array }
  | { readonly ok: false; readonly expected: string; readonly came: string };

/** Pixels of a picture at most (own: four times a large screen); a small file can unfold to a huge picture. */
const PIXELS = 16_000_000;
const FORMATS = ['png', 'jpeg'];

/** Reads a picture somebody sent, whole, and writes it anew: what is printed holds the pixels and nothing else that came along. */
export async function readPicture(sent: Uint8Array): Promise<Picture> {
  const no = (expected: string, came: string): Picture => ({ ok: false, expected, came });
  if (sent.length > pictureBytes) return no(`at most ${pictureBytes} bytes`, `${sent.length} bytes`);
  try {
    const image = sharp(sent, { failOn: 'warning', limitInputPixels: PIXELS, pages: 1 });
    const { format } = await image.metadata();
    if (!FORMATS.includes(format)) return no('a PNG or JPEG picture', `a ${format} file`);
    const bytes = await image.flatten({ background: 'white' }).jpeg({ quality: 85 }).toBuffer();
    return { ok: true, bytes };
  } catch (error) {
    return no('a whole PNG or JPEG picture', error instanceof Error ? error.message : 'something else');
  }
}
