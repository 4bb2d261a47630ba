/** What a table holds: text, a number in SI, yes or no, or nothing. */
export type TableValue = string | number | boolean | null;

/** A table with named columns. */
export interface DataTable {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly TableValue[])[];
}

/** Beginnings that spreadsheets take for a formula or a command. */
const FORMULA = /^[=+\-@\t\r]/;

function cell(value: TableValue): string {
  if (value === null) return '';
  if (typeof value !== 'string') return String(value);
  const text = FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/**
 * A table as CSV (RFC 4180): UTF-8 with a byte-order mark, lines end in CR LF, text that a spreadsheet would run gets an apostrophe before
 * it, numbers stay numbers.
 */
export function csvText({ columns, rows }: DataTable): string {
  const lines = [columns, ...rows].map((row) => row.map(cell).join(','));
  return `\ufeff${lines.map((line) => `${line}\r\n`).join('')}`;
}

/** The rows of a table as objects, for JSON. */
export function tableRows({ columns, rows }: DataTable): readonly Readonly<Record<string, TableValue>>[] {
  return rows.map((row) => Object.fromEntries(columns.map((column, i) => [column, row[i] ?? null])));
}
