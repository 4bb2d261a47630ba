/** Reflected polynomial of CRC-32C. Source: Castagnoli 1993, as in iSCSI (RFC 3720) (memory). */
const POLYNOMIAL = 0x82f63b78;

/** Eight tables, so that eight bytes go in a step: table k is table 0 moved on by k zero bytes. */
const TABLES: readonly Uint32Array[] = makeTables();

function makeTables(): Uint32Array[] {
  const first = Uint32Array.from({ length: 256 }, (_, byte) => {
    let sum = byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ POLYNOMIAL : sum >>> 1;
    return sum;
  });
  const tables = [first];
  while (tables.length < 8) {
    const last = tables.at(-1) ?? first;
    tables.push(last.map((sum) => (sum >>> 8) ^ (first[sum & 255] ?? 0)));
  }
  return tables;
}

const [t0, t1, t2, t3, t4, t5, t6, t7] = TABLES.map((table) => (byte: number) => table[byte & 255] ?? 0);

/** CRC-32C of bytes from `start` to before `end`. */
export function crc32c(bytes: Uint8Array, start = 0, end = bytes.length): number {
  let sum = -1;
  let at = start;
  if (t0 && t1 && t2 && t3 && t4 && t5 && t6 && t7) {
    for (; at + 8 <= end; at += 8) {
      const low =
        sum ^
        ((bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8) | ((bytes[at + 2] ?? 0) << 16) | ((bytes[at + 3] ?? 0) << 24));
      sum =
        t7(low) ^
        t6(low >>> 8) ^
        t5(low >>> 16) ^
        t4(low >>> 24) ^
        t3(bytes[at + 4] ?? 0) ^
        t2(bytes[at + 5] ?? 0) ^
        t1(bytes[at + 6] ?? 0) ^
        t0(bytes[at + 7] ?? 0);
    }
    for (; at < end; at++) sum = (sum >>> 8) ^ t0(sum ^ (bytes[at] ?? 0));
  }
  return ~sum >>> 0;
}
