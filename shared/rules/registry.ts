import type { Rule } from './define.ts';
import { bendTightness } from './design/bend-tightness/rule.ts';

/** Raised whenever a limit, a formula or the set of rules changes: signatures say which version they saw. */
export const RULE_SET = 1;

/** Every rule of this rule set, sorted by id. A meta test compares it with the folders. */
export const rules: readonly Rule[] = [bendTightness];

/** The rule with this id, or null. */
export function findRule(id: string): Rule | null {
  return rules.find((r) => r.id === id) ?? null;
}
