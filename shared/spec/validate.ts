import { formatSi } from '../units/format.ts';
import { parseQuantity } from '../units/parse.ts';
import { displayUnit } from '../units/quantities.ts';
import type { Field } from './field.ts';
import type { Tick } from './spec.ts';

/** A value as stored: a plain SI number, or with the text it was typed as. */
export interface TypedNumber {
  readonly si: number;
  readonly as: string;
}
export type StoredValue = number | string | TypedNumber | Tick;

/** Result of reading a text or a stored value against a field row. */
export type Checked<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: string };

const bad = (error: string): { readonly ok: false; readonly error: string } => ({ ok: false, error });
const good = <T>(value: T): { readonly ok: true; readonly value: T } => ({ ok: true, value });

/** The SI number inside a stored value; null when it is not a number. */
export function storedNumber(value: unknown): number | null {
  if (typeof value === 'number') return value;
  if (typeof value === 'object' && value !== null && 'si' in value && typeof value.si === 'number') return value.si;
  return null;
}

/** The text a stored value was typed as, when it was kept. */
export function typedText(value: unknown): string | null {
  return typeof value === 'object' && value !== null && 'as' in value && typeof value.as === 'string' ? value.as : null;
}

function show(field: Field, value: number): string {
  return field.kind === 'quantity' ? formatSi(field.quantity, value, displayUnit(field.quantity)) : String(value);
}

function checkNumber(field: Extract<Field, { min: number; max: number }>, n: number): Checked<number> {
  if (!Number.isFinite(n)) return bad(`expected a finite number, got ${n}`);
  if (n < field.min || n > field.max) {
    return bad(`expected ${show(field, field.min)} to ${show(field, field.max)}, got ${show(field, n)}`);
  }
  if (field.kind === 'integer' && !Number.isInteger(n)) return bad(`expected a whole number, got ${n}`);
  return good(n);
}

function checkSequence(field: Extract<Field, { kind: 'sequence' }>, text: string): Checked<readonly number[]> {
  const parts = text.trim().split(/\s*[-,; ]\s*/);
  const numbers = parts.map(Number);
  if (text.trim() === '' || numbers.some((n) => !Number.isInteger(n) || n < field.min || n > field.max)) {
    return bad(`expected whole numbers from ${field.min} to ${field.max} such as 1-3-4-2, got "${text}"`);
  }
  if (numbers.length > field.maxLength)
    return bad(`expected at most ${field.maxLength} numbers, got ${numbers.length}`);
  return good(numbers);
}

/** Reads a stored value against its row: the value the spec will carry, or what is wrong with it. */
export function checkStored(field: Field, value: unknown): Checked<number | string | readonly number[]> {
  if (field.kind === 'quantity' || field.kind === 'integer') {
    const n = storedNumber(value);
    return n === null ? bad(`expected a number, got ${describe(value)}`) : checkNumber(field, n);
  }
  if (typeof value !== 'string') return bad(`expected text, got ${describe(value)}`);
  if (field.kind === 'sequence') return checkSequence(field, value);
  if (field.kind === 'choice') {
    return field.options.includes(value)
      ? good(value)
      : bad(`expected one of ${field.options.join(', ')}, got "${value}"`);
  }
  if (value.trim() === '') return bad('expected some text, got nothing');
  return value.length <= field.maxLength
    ? good(value)
    : bad(`expected at most ${field.maxLength} characters, got ${value.length}`);
}

/** Reads what a person typed: the stored form, keeping the text when a unit was written. Never lets an invalid value through. */
export function checkTyped(field: Field, text: string): Checked<number | string | TypedNumber> {
  if (field.kind === 'quantity') {
    const parsed = parseQuantity(field.quantity, text);
    if (!parsed.ok) return bad(parsed.error);
    const ok = checkNumber(field, parsed.si);
    return ok.ok ? good({ si: parsed.si, as: text.trim().slice(0, 40) }) : ok;
  }
  if (field.kind === 'integer') {
    if (!/^[+-]?\d+$/.test(text.trim())) return bad(`expected a whole number, got "${text.trim()}"`);
    return checkNumber(field, Number(text));
  }
  const checked = checkStored(field, text.trim());
  return checked.ok ? good(text.trim()) : checked;
}

/** Reads a stored tick; null when it is not one. */
export function checkTick(value: unknown): Tick | null {
  if (typeof value !== 'object' || value === null) return null;
  if (!('done' in value) || !('note' in value) || !('by' in value)) return null;
  const { done, note, by } = value;
  return typeof done === 'boolean' && typeof note === 'string' && typeof by === 'string' ? { done, note, by } : null;
}

function describe(value: unknown): string {
  return value === undefined ? 'nothing' : (JSON.stringify(value) ?? String(value)).slice(0, 60);
}
