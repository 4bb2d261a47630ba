/** Where scanning stands in a buffer, and the number found last. Used again for every number, so that millions cost no memory. */
export interface Cursor {
  at: number;
  value: number;
}

const [PLUS, COMMA, MINUS, POINT, ZERO, NINE] = [43, 44, 45, 46, 48, 57];
const SEMICOLON = 59;
const [A, N] = [97, 110];
/** Fifteen digits and fewer are held exactly while they are gathered. */
const EXACT = 1e15;
const EXACT_POWERS = Array.from({ length: 23 }, (_, i) => 10 ** i);

/** How a text file writes its rows. */
export interface RowStyle {
  /** The byte between whole and fraction: a point or a comma. */
  readonly decimal: number;
  /** Column of x, y and z, counted from 0. */
  readonly columns: readonly [number, number, number];
}

/** The usual row: a decimal point, x y z first. */
export const PLAIN_ROW: RowStyle = { decimal: POINT, columns: [0, 1, 2] };
export const DECIMAL_COMMA = COMMA;

/**
 * Reads x, y and z from the columns of one row. Columns are parted by spaces, tabs, commas or semicolons; further columns are ignored.
 * @returns false when a wanted column is missing or is no number; NaN and Inf count as numbers, for the caller to judge
 */
export function scanRow(
  row: { readonly bytes: Uint8Array; readonly start: number; readonly end: number },
  style: RowStyle,
  out: Float64Array,
): boolean {
  const cursor: Cursor = { at: row.start, value: 0 };
  const last = Math.max(...style.columns);
  for (let column = 0; column <= last; column++) {
    if (!skipSeparators(row, style.decimal, cursor)) return false;
    const wanted = style.columns.indexOf(column);
    if (wanted < 0) skipToken(row, style.decimal, cursor);
    else if (scanNumber(row, style.decimal, cursor)) out[wanted] = cursor.value;
    else return false;
  }
  return true;
}

type Bytes = { readonly bytes: Uint8Array; readonly end: number };

const isSeparator = (byte: number, decimal: number): boolean =>
  byte <= 32 || byte === SEMICOLON || (byte === COMMA && decimal !== COMMA);

/** Moves to the next column. Two commas or semicolons in a row are an empty column: the row does not say what it means. */
function skipSeparators({ bytes, end }: Bytes, decimal: number, cursor: Cursor): boolean {
  let marks = 0;
  for (; cursor.at < end; cursor.at++) {
    const byte = bytes[cursor.at] ?? 0;
    if (!isSeparator(byte, decimal)) return true;
    if (byte > 32 && ++marks > 1) return false;
  }
  return false;
}

function skipToken({ bytes, end }: Bytes, decimal: number, cursor: Cursor): void {
  while (cursor.at < end && !isSeparator(bytes[cursor.at] ?? 0, decimal)) cursor.at++;
}

/** Reads one number and leaves the cursor behind it. False when what stands there is no number. */
export function scanNumber(line: Bytes, decimal: number, cursor: Cursor): boolean {
  const { bytes, end } = line;
  let at = cursor.at;
  const negative = bytes[at] === MINUS;
  if (negative || bytes[at] === PLUS) at++;
  const whole = at;
  let mantissa = 0;
  for (; at < end && isDigit(bytes[at] ?? 0); at++) mantissa = mantissa * 10 + ((bytes[at] ?? 0) - ZERO);
  let figures = at - whole;
  let places = 0;
  if (at < end && bytes[at] === decimal) {
    const fraction = ++at;
    for (; at < end && isDigit(bytes[at] ?? 0); at++) mantissa = mantissa * 10 + ((bytes[at] ?? 0) - ZERO);
    places = at - fraction;
    figures += places;
  }
  const plain = at >= end || isSeparator(bytes[at] ?? 0, decimal);
  if (!plain || figures === 0 || mantissa >= EXACT || places > 22) return scanSlow(line, decimal, cursor);
  // Both operands are exact, so the one division rounds correctly (W. D. Clinger's fast path, memory).
  const magnitude = mantissa / (EXACT_POWERS[places] ?? 1);
  cursor.value = negative ? -magnitude : magnitude;
  cursor.at = at;
  return true;
}

const isDigit = (byte: number): boolean => byte >= ZERO && byte <= NINE;

const NOT_A_NUMBER = /^[+-]?(?:nan(?:\(.*\))?|1[.,]#\w+)$/i;
const INFINITE = /^[+-]?(?:inf(?:inity)?|1[.,]#inf\w*)$/i;
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[ed][+-]?\d+)?$/i;

/** "nan" in any letters: a scanner may have missed half of the points. */
const isPlainNan = (bytes: Uint8Array, start: number, end: number): boolean =>
  end - start === 3 &&
  ((bytes[start] ?? 0) | 32) === N &&
  ((bytes[start + 1] ?? 0) | 32) === A &&
  ((bytes[start + 2] ?? 0) | 32) === N;

/** Exponents, long mantissas and the spellings of NaN and Inf: rare, so through a string. */
function scanSlow(line: Bytes, decimal: number, cursor: Cursor): boolean {
  const start = cursor.at;
  skipToken(line, decimal, cursor);
  if (isPlainNan(line.bytes, start, cursor.at)) {
    cursor.value = Number.NaN;
    return true;
  }
  const token = Buffer.from(line.bytes.subarray(start, cursor.at)).toString('latin1');
  // Before NaN, some of whose spellings look like it.
  if (INFINITE.test(token)) cursor.value = token.startsWith('-') ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  else if (NOT_A_NUMBER.test(token)) cursor.value = Number.NaN;
  else {
    const text = decimal === COMMA ? token.replace(',', '.') : token;
    if (!NUMBER.test(text)) return false;
    cursor.value = Number(text.replace(/d/i, 'e'));
  }
  return true;
}
