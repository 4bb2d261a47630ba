import sharp from 'sharp';
import type { Blobs } from './storage/ports.ts';

/** Largest file taken, bytes (own: what phones make is a third of it). */
export const PHOTO_BYTES = 25 * 1024 * 1024;
/** Largest picture taken, pixels: one that unpacks to more is not opened (own). */
const PIXELS = 60_000_000;
/** Longest side kept, pixels: a weld bead 1 mm wide across a 0.3 m view still has eight of them. */
const LONG_SIDE = 2_560;
const THUMB_SIDE = 320;
/** Pictures opened at the same time; each takes up to a quarter of a gigabyte. */
const AT_ONCE = 2;

/** What is kept of a photo: its pixels alone, upright, as JPEG. */
export interface KeptPhoto {
  readonly sha256: string;
  /** Hash of the small one. */
  readonly thumb: string;
  readonly width: number;
  readonly height: number;
  readonly bytes: number;
}

/** Why a file was not taken as a photo, in words. */
export interface PhotoProblem {
  readonly problem: string;
  readonly expected?: string;
  readonly came?: string;
}

/** Takes photos in: one after another, so that many at once do not fill the memory. */
export type PhotoIntake = (file: Uint8Array) => Promise<KeptPhoto | PhotoProblem>;

const KINDS = 'a photo as JPEG, PNG or WebP';

export function photoIntake(blobs: Blobs): PhotoIntake {
  let [open, waiting]: [number, (() => void)[]] = [0, []];
  const leave = (): void => {
    open -= 1;
    const [next, ...rest] = waiting;
    waiting = rest;
    next?.();
  };
  return async (file) => {
    if (open >= AT_ONCE) await new Promise<void>((resolve) => waiting.push(resolve));
    open += 1;
    try {
      return await takeIn(file, blobs);
    } finally {
      leave();
    }
  };
}

async function takeIn(file: Uint8Array, blobs: Blobs): Promise<KeptPhoto | PhotoProblem> {
  const kind = kindOf(file);
  if (kind === undefined)
    return {
      problem: 'this is no photo',
      expected: KINDS,
      came: file.length === 0 ? 'an empty file' : 'something else',
    };
  try {
    const { width = 0, height = 0 } = await sharp(file, { limitInputPixels: false }).metadata();
    if (width * height > PIXELS)
      return {
        problem: 'this photo is too large; take it with fewer pixels',
        expected: `at most ${PIXELS / 1e6} million pixels`,
        came: `${width} x ${height}, ${((width * height) / 1e6).toFixed(0)} million`,
      };
    return await keep(await jpeg(file, LONG_SIDE), blobs);
  } catch {
    // The library's words name its own functions: they help nobody at the bench.
    return { problem: `this ${kind} cannot be read; it is cut off or of a kind not read here`, expected: KINDS };
  }
}

async function keep(photo: Made, blobs: Blobs): Promise<KeptPhoto> {
  const thumb = await jpeg(photo.data, THUMB_SIDE);
  const { sha256, bytes } = await blobs.write(photo.data);
  const { sha256: small } = await blobs.write(thumb.data);
  return { sha256, bytes, thumb: small, width: photo.info.width, height: photo.info.height };
}

interface Made {
  readonly data: Buffer;
  readonly info: { readonly width: number; readonly height: number };
}

/** Turned upright, made smaller, and without anything but its pixels: no place, no device, no time. */
function jpeg(file: Uint8Array, side: number): Promise<Made> {
  return sharp(file, { limitInputPixels: PIXELS, failOn: 'error' })
    .autoOrient()
    .resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .jpeg({ quality: 84 })
    .toBuffer({ resolveWithObject: true });
}

/** What a file says it is by its first bytes: nothing but these kinds is handed to a decoder. */
function kindOf(file: Uint8Array): string | undefined {
  const text = (from: number, end: number): string => String.fromCharCode(...file.subarray(from, end));
  if (text(0, 3) === '\xff\xd8\xff') return 'JPEG';
  if (text(0, 8) === '\x89PNG\r\n\x1a\n') return 'PNG';
  if (text(0, 4) === 'RIFF' && text(8, 12) === 'WEBP') return 'WebP';
  if (text(4, 8) === 'ftyp' && /^(hei[cfsm]|hevc|mif1|msf1|avif)$/.test(text(8, 12))) return 'HEIF';
  return undefined;
}
