import { factQuantity } from '../../shared/gates/factWords.ts';
import type { Signature } from '../../shared/gates/readiness.ts';
import { rowHash, statementSchema } from '../../shared/record/statement.ts';
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

/** Content hashes among the facts, sorted. */
export function filesOf(facts: CoveredFacts): string[] {
  const hashes = Object.keys(facts)
    .filter((path) => path.endsWith('.scan') || path.endsWith('.mesh'))
    .map((path) => facts[path]);
  return hashes.filter((h): h is string => typeof h === 'string').sort();
}

/** A kept row as a signature. Throws when the row does not hold what it should: the record is damaged. */
export function signatureOf(row: SignOff): Signature {
  const s = statementSchema.parse(JSON.parse(row.statement));
  if (rowHash(row.previousHash, row.statement) !== row.hash)
    throw new Error(`sign-off ${row.id}: its hash does not match its statement`);
  return {
    id: row.id,
    gate: s.gate,
    account: s.signer.account,
    name: s.signer.name,
    role: s.signer.role,
    at: s.at,
    meaning: s.meaning,
    ruleSet: s.ruleSet,
    facts: s.facts,
    digest: s.digest,
    hash: row.hash,
  };
}
