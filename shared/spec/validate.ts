import { formatSi } from '../units/format.ts';
import { parseQuantity } from '../units/parse.ts';
import { displayUnit } from '../units/quantities.ts';
import type { Field } from './field.ts';
import { isId } from './id.ts';
import type { Tick } from './spec.ts';

/** A value as stored: a plain SI number, or with the text it was typed as. */
export interface TypedNumber {
  readonly si: number;
  readonly as: string;
}
/** What a spec entry may hold. */
export type StoredValue = number | string | TypedNumber | Tick;

/** Result of reading a text or a stored value against a field row. */
export type Checked<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: string };

/** Characters of a wrong text that an error repeats. */
const TEXT_SHOWN = 60;
/** Longest text kept beside a number, characters. */
const TYPED_LIMIT = 40;

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

type Bounded = Extract<Field, { min: number; max: number }>;

function show(field: Bounded, value: number): string {
  return field.kind === 'quantity' ? formatSi(field.quantity, value) : String(value);
}

/** A value outside its bounds; one that rounds to the bound itself is shown in more digits, so that no error reads "up to 5.00, got 5.00". */
function showOutside(field: Bounded, value: number): string {
  const text = show(field, value);
  if (field.kind !== 'quantity' || (text !== show(field, field.min) && text !== show(field, field.max))) return text;
  return formatSi(field.quantity, value, { ...displayUnit(field.quantity), decimals: 12 });
}

/** Rounding of a conversion may land a typed bound beside the bound (relative; own: far above rounding, far below any tolerance). */
const BOUND_SLACK = 1e-12;

function inside(field: Bounded, n: number): boolean {
  const slack = BOUND_SLACK * Math.max(Math.abs(field.min), Math.abs(field.max));
  return n >= field.min - slack && n <= field.max + slack;
}

function checkNumber(field: Bounded, n: number): Checked<number> {
  if (!Number.isFinite(n)) return bad(`expected a finite number, got ${n}`);
  if (!inside(field, n)) {
    return bad(`expected ${show(field, field.min)} to ${show(field, field.max)}, got ${showOutside(field, n)}`);
  }
  if (field.kind === 'integer' && !Number.isInteger(n)) return bad(`expected a whole number, got ${n}`);
  // Minus zero is the same fact as zero, and no file can hold the difference.
  return good(n === 0 ? 0 : n);
}

/** A limit may be of any size; whether it makes sense is for the rule to say. */
function checkPlain(value: unknown): Checked<number> {
  const n = storedNumber(value);
  if (n === null) return bad(`expected a plain number, got ${describeValue(value)}`);
  return Number.isFinite(n) ? good(n === 0 ? 0 : n) : bad(`expected a finite number, got ${n}`);
}

/** Own materials come and go, so any id that could be one of theirs is taken here; the checks find out whether it is there. */
function checkMaterial(field: Extract<Field, { kind: 'material' }>, text: string): Checked<string> {
  if (field.options.includes(text) || isId(text)) return good(text);
  return bad(`expected one of ${field.options.join(', ')} or the id of an own material, got ${describeValue(text)}`);
}

function checkSequence(field: Extract<Field, { kind: 'sequence' }>, text: string): Checked<readonly number[]> {
  const parts = text.length > TEXT_SHOWN * field.maxLength ? [] : text.trim().split(/\s*[-,; ]\s*/);
  const numbers = parts.map((part) => (/^\d+$/.test(part) ? Number(part) : Number.NaN));
  if (parts.length === 0 || numbers.some((n) => !(n >= field.min && n <= field.max))) {
    return bad(`expected whole numbers from ${field.min} to ${field.max} such as 1-3-4-2, got ${describeValue(text)}`);
  }
  if (numbers.length > field.maxLength)
    return bad(`expected at most ${field.maxLength} numbers, got ${numbers.length}`);
  return good(numbers);
}

/** Reads a stored value against its row: the value the spec will carry, or what is wrong with it. */
export function checkStored(field: Field, value: unknown): Checked<number | string | readonly number[]> {
  if (field.kind === 'quantity' || field.kind === 'integer') {
    const n = storedNumber(value);
    return n === null ? bad(`expected a number, got ${describeValue(value)}`) : checkNumber(field, n);
  }
  if (field.kind === 'number') return checkPlain(value);
  if (typeof value !== 'string') return bad(`expected text, got ${describeValue(value)}`);
  if (field.kind === 'sequence') return checkSequence(field, value);
  if (field.kind === 'material') return checkMaterial(field, value);
  if (field.kind === 'choice') {
    return field.options.includes(value)
      ? good(value)
      : bad(`expected one of ${field.options.join(', ')}, got ${describeValue(value)}`);
  }
  if (value.trim() === '') return bad('expected some text, got nothing');
  return value.length <= field.maxLength
    ? good(value)
    : bad(`expected at most ${field.maxLength} characters, got ${value.length}`);
}

/**
 * Reads what a person typed: the stored form, which keeps a quantity's text beside its SI number unless it is very long. Never lets an
 * invalid value through.
 */
export function checkTyped(field: Field, text: string): Checked<number | string | TypedNumber> {
  const typed = text.trim();
  if (field.kind === 'quantity') {
    const parsed = parseQuantity(field.quantity, typed);
    const ok = parsed.ok ? checkNumber(field, parsed.si) : parsed;
    return ok.ok && typed.length <= TYPED_LIMIT ? good({ si: ok.value, as: typed }) : ok;
  }
  if (field.kind === 'integer') {
    if (!/^[+-]?\d+$/.test(typed)) return bad(`expected a whole number, got ${describeValue(typed)}`);
    return checkNumber(field, Number(typed));
  }
  // Plain numbers have no unit to be typed in; the limit form turns its rule's unit to SI first.
  if (field.kind === 'number') return /\d/.test(typed) ? checkPlain(Number(typed)) : checkPlain(typed);
  const checked = checkStored(field, typed);
  return checked.ok ? good(typed) : checked;
}

/** Reads a stored tick; null when it is not one. */
export function checkTick(value: unknown): Tick | null {
  if (typeof value !== 'object' || value === null) return null;
  if (!('done' in value) || !('note' in value) || !('by' in value)) return null;
  const { done, note, by } = value;
  if (typeof done !== 'boolean' || typeof note !== 'string' || typeof by !== 'string') return null;
  if (!('photos' in value) || value.photos === undefined) return { done, note, by };
  const photos = checkPhotos(value.photos);
  if (!photos) return null;
  return photos.length === 0 ? { done, note, by } : { done, note, by, photos };
}

/** Most photos of one checklist item. */
export const photoLimit = 8;

function checkPhotos(value: unknown): readonly string[] | null {
  if (!Array.isArray(value) || value.length > photoLimit) return null;
  const photos = value.filter((one): one is string => typeof one === 'string' && /^[0-9a-f]{64}$/.test(one));
  return photos.length === value.length && new Set(photos).size === photos.length ? photos : null;
}

/** What came, for an error text: never long, and safe for whatever a peer may have put into a document. */
export function describeValue(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'string') {
    return value.length > TEXT_SHOWN ? `${JSON.stringify(value.slice(0, TEXT_SHOWN))}...` : JSON.stringify(value);
  }
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return typeof value === 'object' && value !== null ? 'an object' : String(value);
}
