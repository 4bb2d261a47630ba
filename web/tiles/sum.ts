/** Remainders of all bytes, as of PNG, gzip and IEEE 802.3 (polynomial 0xEDB88320, lowest bit first). */
const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = rest & 1 ? 0xedb88320 ^ (rest >>> 1) : rest >>> 1;
  return rest;
});

/** CRC-32 of bytes. */
export function sumOf(bytes: Uint8Array): number {
  let rest = 0xffffffff;
  for (let i = 0; i < bytes.length; i++) rest = (TABLE[(rest ^ (bytes[i] ?? 0)) & 0xff] ?? 0) ^ (rest >>> 8);
  return (rest ^ 0xffffffff) >>> 0;
}
