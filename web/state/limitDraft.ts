import { type Adjusted, overrideProblem } from '../../shared/rules/override.ts';
import { whyWords } from '../../shared/rules/words.ts';
import { collections } from '../../shared/spec/fields.ts';
import type { JobLimit } from '../../shared/spec/spec.ts';
import { checkStored } from '../../shared/spec/validate.ts';
import { formatNumber } from '../../shared/units/format.ts';
import { parseQuantity } from '../../shared/units/parse.ts';
import type { QuantityKey } from '../../shared/units/quantities.ts';

/** A limit for the job as it is typed: numbers in the display unit of the rule, or with any unit of its quantity. */
export interface LimitDraft {
  readonly least: string;
  readonly most: string;
  readonly reason: string;
}

type Side = 'least' | 'most';

/** The sides a rule's limit has. */
export const limitSides: Readonly<Record<'max' | 'min' | 'range', readonly Side[]>> = {
  max: ['most'],
  min: ['least'],
  range: ['least', 'most'],
};

/** What a limit that is set already looks like in the form. */
export function draftOf(rule: Adjusted, row: JobLimit | undefined): LimitDraft {
  return {
    least: shown(row?.least, rule.quantity),
    most: shown(row?.most, rule.quantity),
    reason: row?.reason ?? '',
  };
}

function shown(value: number | undefined, quantity: QuantityKey): string {
  return value === undefined || !Number.isFinite(value) ? '' : formatNumber(quantity, value);
}

/** What the form would store, or what is wrong with it. */
export type LimitRead =
  | { readonly ok: true; readonly values: Readonly<Partial<Record<Side, number>>> & { readonly reason: string } }
  | { readonly ok: false; readonly problem: string };

/** Reads a draft. A number whose text was not touched keeps all the digits it had. */
export function readDraft(rule: Adjusted, draft: LimitDraft, row: JobLimit | undefined): LimitRead {
  const numbers: Partial<Record<Side, number>> = {};
  for (const side of rule.adjustable ? limitSides[rule.adjustable] : []) {
    const text = draft[side].trim();
    if (text === '') continue;
    const before = row?.[side];
    const read = parseQuantity(rule.quantity, text);
    if (before !== undefined && text === shown(before, rule.quantity)) numbers[side] = before;
    else if (read.ok) numbers[side] = read.si;
    else return { ok: false, problem: read.error };
  }
  if (Object.keys(numbers).length === 0) return { ok: false, problem: 'expected a limit, got nothing' };
  const reason = checkStored(collections.limits.reason, draft.reason.trim());
  if (!reason.ok) return { ok: false, problem: `Reason: ${reason.error}` };
  const values = { ...numbers, reason: draft.reason.trim() };
  const why = overrideProblem({ least: undefined, most: undefined, ...values, id: rule.id, order: 1 }, rule);
  return why ? { ok: false, problem: whyWords(why) } : { ok: true, values };
}
