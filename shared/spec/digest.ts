import * as sha256 from 'lib0/hash/sha256';

/** What a number becomes before it is written: itself, or a rounding that two machines agree on. Must be a pure function. */
export type Rounding = (x: number) => number;

/**
 * Canonical JSON: keys sorted, no white space, numbers as ECMAScript prints them (the RFC 8785 form for finite data without lone
 * surrogates); what JSON cannot hold (NaN, infinities, big integers) becomes text. Numbers are rounded on the way when that is asked for.
 */
export function canonical(value: unknown, rounding?: Rounding): string {
  // A digest is made for every verdict: one pass, no copies, the frequent kinds first.
  if (typeof value === 'number') {
    const written = rounding ? rounding(value) : value;
    // JSON has no infinities; a digest must still tell them apart and must not throw. (The greatest numbers round to infinity.)
    return Number.isFinite(written) ? String(written) : `"${written}"`;
  }
  if (typeof value === 'object' && value !== null)
    return Array.isArray(value) ? canonicalList(value, rounding) : canonicalRecord(value, rounding);
  if (typeof value === 'bigint') return `"${value}"`;
  return JSON.stringify(value) ?? 'null';
}

function canonicalList(list: readonly unknown[], rounding: Rounding | undefined): string {
  let out = '[';
  for (let i = 0; i < list.length; i++) {
    const member = list[i];
    out += i > 0 ? ',' : '';
    out += member === undefined ? 'null' : canonical(member, rounding);
  }
  return `${out}]`;
}

function canonicalRecord(record: object, rounding: Rounding | undefined): string {
  const members: Readonly<Record<string, unknown>> = { ...record };
  let out = '';
  for (const key of inOrder(Object.keys(members))) {
    const member = members[key];
    if (member !== undefined) out += `${out === '' ? '' : ','}${JSON.stringify(key)}:${canonical(member, rounding)}`;
  }
  return `{${out}}`;
}

/** Keys by UTF-16 code units; most records are written in order, and looking is cheaper than sorting. */
function inOrder(keys: string[]): readonly string[] {
  for (let i = 1; i < keys.length; i++) if ((keys[i - 1] ?? '') > (keys[i] ?? '')) return keys.sort();
  return keys;
}

const encoder = new TextEncoder();

/** SHA-256 of the canonical JSON of a value, 64 hex digits. */
export function digest(value: unknown, rounding?: Rounding): string {
  return hex(sha256.digest(encoder.encode(canonical(value, rounding))));
}

/** Lower-case hex of bytes. */
export function hex(bytes: Uint8Array): string {
  let out = '';
  for (const b of bytes) out += pairs[b] ?? '';
  return out;
}

const pairs = Array.from({ length: 256 }, (_, b) => b.toString(16).padStart(2, '0'));
