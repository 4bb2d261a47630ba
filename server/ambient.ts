/** What the world supplies: given to every part that needs it, so a test can stop time and replay chance. */

/** Milliseconds since 1970-01-01T00:00Z. */
export type Clock = () => number;

/** That many unpredictable bytes. */
export type Random = (bytes: number) => Uint8Array;

export function isoTime(milliseconds: number): string {
  return new Date(milliseconds).toISOString();
}

/** A record's id: 128 bits, too many to meet twice or to guess. */
export function newId(random: Random): string {
  return Buffer.from(random(16)).toString('base64url');
}
