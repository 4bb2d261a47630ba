import { findRule } from '../rules/registry.ts';
import { type FactValue, formatFact, pathWords } from '../spec/covered.ts';
import { isGateId } from '../spec/gateId.ts';
import { fieldAt } from '../spec/path.ts';
import type { Spec } from '../spec/spec.ts';
import { formatSi } from '../units/format.ts';
import type { QuantityKey } from '../units/quantities.ts';
import { gateRow } from './gates.ts';

/** The quantity of a covered number: that of its field, or, of a limit set for the job, that of the rule; null when it has none. */
export function factQuantity(path: string): QuantityKey | null {
  const field = fieldAt(path);
  if (field?.kind === 'quantity') return field.quantity;
  return field?.kind === 'number' ? (limitedBy(path)?.quantity ?? null) : null;
}

/** The rule whose limit a path speaks of; null for any other path. */
function limitedBy(path: string) {
  const [branch, id = ''] = path.split('.');
  return branch === 'limits' ? findRule(id) : null;
}

/** A covered fact as a person reads it: numbers in the display unit, an own material by its name. */
export function factWords(path: string, value: FactValue | undefined, spec: Spec): string {
  const quantity = factQuantity(path);
  if (quantity && typeof value === 'number') return formatSi(quantity, value);
  const own = fieldAt(path)?.kind === 'material' ? spec.materials.find((row) => row.id === value) : undefined;
  return own?.name ?? formatFact(path, value);
}

/** What a covered fact is, in words: a limit set for the job by the title of its rule, what people decided by what it is, all else as the spec names it. */
export function factTitle(path: string, spec: Spec): string {
  const rule = limitedBy(path);
  if (rule) return `${rule.title}: ${fieldAt(path)?.label ?? path}`;
  const [branch, id = ''] = path.split('.');
  if (branch === 'concessions') return `Concession ${id}`;
  return branch === 'plan' ? planWords(path) : pathWords(path, spec);
}

const planParts: Readonly<Record<string, string>> = {
  point: 'hold, witness or review',
  signs: 'who signs',
  twoPeople: 'each signer another person',
};

/** `plan.weld.items.root-seen` and the like. */
function planWords(path: string): string {
  const [, gate = '', part = '', item] = path.split('.');
  const title = isGateId(gate) ? gateRow(gate).title : gate;
  return `Plan of ${title}: ${item === undefined ? (planParts[part] ?? part) : `item ${item}`}`;
}
