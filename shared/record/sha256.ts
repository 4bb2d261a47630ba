import { digest } from 'lib0/hash/sha256';
import { encodeUtf8 } from 'lib0/string';
import { hex } from '../spec/digest.ts';

/** SHA-256 (FIPS 180-4). A host may bring a faster one; both must give the same. */
export interface Sha256 {
  /** Of the text's UTF-8 bytes, 64 hex digits. */
  ofText(text: string): string;
  /** 32 bytes. */
  ofBytes(bytes: Uint8Array): Uint8Array;
}

/** Runs everywhere. */
export const sha256: Sha256 = { ofText: (text) => hex(digest(encodeUtf8(text))), ofBytes: digest };
