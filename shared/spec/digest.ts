import * as sha256 from 'lib0/hash/sha256';

/** Canonical JSON: keys sorted, no white space, numbers as ECMAScript prints them (the RFC 8785 form for finite data without lone surrogates); what JSON cannot hold (NaN, infinities, big integers) becomes text. */
export function canonical(value: unknown): string {
  if (Array.isArray(value)) return `[${Array.from(value, canonicalMember).join(',')}]`;
  if (typeof value === 'object' && value !== null) {
    const parts: string[] = [];
    for (const [key, member] of Object.entries(value).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))) {
      if (member !== undefined) parts.push(`${JSON.stringify(key)}:${canonical(member)}`);
    }
    return `{${parts.join(',')}}`;
  }
  // JSON has no such numbers; a digest must still tell them apart and must not throw.
  if (typeof value === 'bigint' || (typeof value === 'number' && !Number.isFinite(value))) return `"${value}"`;
  return JSON.stringify(value) ?? 'null';
}

function canonicalMember(value: unknown): string {
  return value === undefined ? 'null' : canonical(value);
}

const encoder = new TextEncoder();

/** SHA-256 of the canonical JSON of a value, 64 hex digits. */
export function digest(value: unknown): string {
  return hex(sha256.digest(encoder.encode(canonical(value))));
}

/** Lower-case hex of bytes. */
export function hex(bytes: Uint8Array): string {
  let out = '';
  for (const b of bytes) out += b.toString(16).padStart(2, '0');
  return out;
}
