import { factQuantity } from '../../shared/gates/factWords.ts';
import type { Signature } from '../../shared/gates/readiness.ts';
import { type Decided, type DecidedRow, decidedBy, signatureFrom } from '../../shared/record/decided.ts';
import { isSignature, readStatement, rowHash } from '../../shared/record/statement.ts';
import type { CoveredFacts } from '../../shared/spec/covered.ts';
import { quantityRow } from '../../shared/units/quantities.ts';
import type { SignOff } from '../storage/ports.ts';

/** SI units of the numeric facts, by path. */
export function unitsOf(facts: CoveredFacts): Record<string, string> {
  const out: Record<string, string> = {};
  for (const path of Object.keys(facts)) {
    const quantity = factQuantity(path);
    if (quantity && typeof facts[path] === 'number') out[path] = quantityRow(quantity).units[0].symbol;
  }
  return out;
}

export interface NamedFile {
  readonly sha256: string;
  readonly name: string;
}

/** Scans, parts and photos among the facts, by content, with the names they came under; a photo is called by what it shows. */
export function filesOf(facts: CoveredFacts, names: ReadonlyMap<string, string>): NamedFile[] {
  const out = new Map<string, string>();
  for (const [path, value] of Object.entries(facts)) {
    if (typeof value !== 'string') continue;
    if (path.endsWith('.scan') || path.endsWith('.mesh')) out.set(value, names.get(value) ?? path);
    if (path.startsWith('ticks.') && path.endsWith('.photos'))
      for (const photo of value.split(' ')) out.set(photo, names.get(photo) ?? path.replace(/s$/, ''));
  }
  return [...out].map(([sha256, name]) => ({ sha256, name })).sort((a, b) => (a.sha256 < b.sha256 ? -1 : 1));
}

/** A kept row, read. Throws when it does not hold what it should: the record is damaged. */
function readRow({ id, statement: text, previousHash, hash }: SignOff): DecidedRow {
  const statement = readStatement(text);
  if (!statement) throw new Error(`row ${id} of the record: its statement cannot be read`);
  if (rowHash(previousHash, text) !== hash)
    throw new Error(`row ${id} of the record: its hash does not match its statement`);
  return { id, hash, statement };
}

/** A kept row as a signature. Throws when the row does not hold what it should, or is none. */
export function signatureOf(row: SignOff): Signature {
  const read = readRow(row);
  if (!isSignature(read.statement)) throw new Error(`row ${row.id} of the record is no signature`);
  return signatureFrom(read, read.statement);
}

/** What the kept rows of a project come to, oldest first. Throws when one does not hold what it should. */
export function decidedOf(rows: readonly SignOff[]): Decided {
  return decidedBy(rows.map(readRow));
}
