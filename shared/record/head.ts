import { z } from 'zod';
import { canonical } from '../spec/digest.ts';

/** SHA-256 or an Ed25519 public key: 32 bytes as lower-case hex. */
export const hexOf32 = z.string().regex(/^[0-9a-f]{64}$/, '64 hex digits, lower case');

/** Head of a record: that so many rows, in this order and with this content, were there at that time. */
export const headSchema = z.strictObject({
  project: z.string(),
  /** Rows it speaks of, from the first. */
  size: z.number().int().positive(),
  /** Merkle root over the rows' hashes (32 bytes each, see merkle.ts). */
  root: hexOf32,
  /** Hash of the last of these rows. */
  last: hexOf32,
  /** When it was signed, ISO 8601 in UTC, by the server's clock. */
  at: z.string(),
});
/** See {@link headSchema}. */
export type Head = z.infer<typeof headSchema>;

/** A head with the server's signature. */
export const signedHeadSchema = headSchema.extend({
  /** Ed25519 public key it was signed with. */
  key: hexOf32,
  /** Ed25519 signature (RFC 8032) over {@link headText}, 64 bytes as hex. */
  signature: z.string().regex(/^[0-9a-f]{128}$/, '128 hex digits, lower case'),
});
/** See {@link signedHeadSchema}. */
export type SignedHead = z.infer<typeof signedHeadSchema>;

/** The text that is signed: canonical JSON (RFC 8785), which begins with what it is, so that no other signature passes for it. */
export function headText({ project, size, root, last, at }: Head): string {
  return canonical({ '': 'head of a record, version 1', project, size, root, last, at });
}

/** A root as people compare it and papers print it: its first 32 hex digits (128 bits) in eight groups of four. */
export function shortHead(root: string): string {
  return (root.slice(0, 32).match(/.{1,4}/g) ?? []).join(' ');
}
