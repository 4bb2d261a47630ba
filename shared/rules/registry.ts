import type { Rule } from './define.ts';
import { bayClearance } from './design/bay-clearance/rule.ts';
import { bendTightness } from './design/bend-tightness/rule.ts';
import { flangeGrowth } from './design/flange-growth/rule.ts';
import { hoopStress } from './design/hoop-stress/rule.ts';
import { runnerClearance } from './design/runner-clearance/rule.ts';
import { runnerLengthSpread } from './design/runner-length-spread/rule.ts';
import { runnerLoss } from './design/runner-loss/rule.ts';
import { runnerMach } from './design/runner-mach/rule.ts';
import { studPreload } from './design/stud-preload/rule.ts';
import { turboBending } from './design/turbo-bending/rule.ts';
import { heatInput } from './weld/heat-input/rule.ts';
import { purgeTime } from './weld/purge-time/rule.ts';

/** Raised whenever a limit, a formula or the set of rules changes: signatures say which version they saw. */
export const RULE_SET = 1;

/** Every rule of this rule set, sorted by id. A meta test compares it with the folders. */
export const rules: readonly Rule[] = [
  bayClearance,
  bendTightness,
  flangeGrowth,
  heatInput,
  hoopStress,
  purgeTime,
  runnerClearance,
  runnerLengthSpread,
  runnerLoss,
  runnerMach,
  studPreload,
  turboBending,
];

/** The rule with this id, or null. */
export function findRule(id: string): Rule | null {
  return rules.find((r) => r.id === id) ?? null;
}
