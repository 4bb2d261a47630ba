import type { CoveredFacts } from '../spec/covered.ts';
import { digest } from '../spec/digest.ts';
import { type GateId, gateIds } from '../spec/gateId.ts';
import { isId } from '../spec/id.ts';
import { type ChecklistItem, gateRow, gates, type PointKind } from './gates.ts';
import { fieldPattern } from './planField.ts';
import { type Role, roles } from './roles.ts';

/** An item of a plan: what a person checks, with the field of the spec that is measured for it. */
export type PlanItem = ChecklistItem;

/** What a job asks of one gate. */
export interface GatePlan {
  readonly gate: GateId;
  /** hold: what comes after waits for it. witness and review: nothing waits. */
  readonly point: PointKind;
  /** Roles that must each have signed, in this order. */
  readonly signs: readonly Role[];
  /** True: each role needs its own person. False: one person may sign in all of them. */
  readonly twoPeople: boolean;
  readonly items: readonly PlanItem[];
  /** Reason why this job does without the gate; then it is passed by. */
  readonly left?: string;
}
/** The plan of a job: every gate once, in the order of the work. */
export type Plan = readonly GatePlan[];

/** What a job is planned by until it plans its own: the gate table, every gate a hold point of different people. */
export const defaultPlan: Plan = gates.map(({ id, signs, items }) => ({
  gate: id,
  point: 'hold',
  signs,
  twoPeople: true,
  items,
}));

/** What a plan asks of a gate. */
export function planOf(plan: Plan, gate: GateId): GatePlan {
  const row = plan.find((one) => one.gate === gate);
  if (!row) throw new Error(`the plan has no gate "${gate}"`);
  return row;
}

/** SHA-256 of a plan, 64 hex digits. */
export function planDigest(plan: Plan): string {
  return digest(plan);
}

/** Most items of one gate. */
export const itemLimit = 40;
/** Longest text of an item or reason, characters. */
export const textLimit = 200;
/** Shortest reason that says anything, characters. */
export const reasonLeast = 10;

const points: readonly PointKind[] = ['hold', 'witness', 'review'];

/** What is wrong with a plan, in words, with what was expected and what came; nothing when it can be worked by. */
export function planProblems(plan: Plan): readonly string[] {
  const out = gateIds.flatMap((id, i) => {
    const row = plan[i];
    return row?.gate === id ? [] : [`gate ${i + 1}: expected ${id}, got ${row?.gate ?? 'nothing'}`];
  });
  if (plan.length > gateIds.length) out.push(`expected ${gateIds.length} gates, got ${plan.length}`);
  if (out.length > 0) return out;
  const held = plan.some((row) => row.left === undefined && row.point === 'hold' && gateRow(row.gate).route === 'both');
  if (!held) out.push('expected at least one hold gate that every route passes, got none: nothing would stop the work');
  return [...out, ...plan.flatMap(gateProblems)];
}

function gateProblems(row: GatePlan): readonly string[] {
  const name = gateRow(row.gate).title;
  const out: string[] = [];
  if (!points.includes(row.point)) out.push(`${name}: expected hold, witness or review, got ${row.point}`);
  if (row.signs.length === 0) out.push(`${name}: expected at least one signer, got none`);
  for (const [i, role] of row.signs.entries()) {
    if (!roles.includes(role)) out.push(`${name}: expected a role such as ${roles.join(', ')}, got ${role}`);
    if (row.signs.indexOf(role) !== i) out.push(`${name}: expected each signer once, got ${role} twice`);
  }
  const { left } = row;
  if (left !== undefined && (left.trim().length < reasonLeast || left.length > textLimit))
    out.push(
      `${name}: expected a reason of ${reasonLeast} to ${textLimit} characters to leave it out, got ${left.trim().length}`,
    );
  if (row.items.length > itemLimit) out.push(`${name}: expected at most ${itemLimit} items, got ${row.items.length}`);
  return [...out, ...row.items.flatMap((item, i) => itemProblems(item, { row, i, name }))];
}

interface ItemPlace {
  readonly row: GatePlan;
  readonly i: number;
  readonly name: string;
}

function itemProblems({ id, text, point, field }: PlanItem, { row, i, name }: ItemPlace): readonly string[] {
  const where = `${name}, item ${i + 1}`;
  const out: string[] = [];
  if (!isId(id)) out.push(`${where}: expected an id of letters, digits and dashes, got "${id.slice(0, 40)}"`);
  if (row.items.findIndex((other) => other.id === id) !== i)
    out.push(`${where}: expected each id once, got "${id.slice(0, 40)}" twice`);
  if (!points.includes(point)) out.push(`${where}: expected hold, witness or review, got ${point}`);
  if (text.trim().length === 0 || text.length > textLimit)
    out.push(`${where}: expected a text of 1 to ${textLimit} characters, got ${text.trim().length}`);
  if (field !== undefined && !fieldPattern(field))
    out.push(`${where}: expected a field such as turbo.mass or joints.*.rootGap, got "${field.slice(0, 60)}"`);
  return out;
}

const itemWords = ({ point, text, field }: PlanItem): string =>
  `${point}: ${text}${field === undefined ? '' : ` [${field}]`}`;

/**
 * Facts a signature on a gate covers of its plan: all in which it differs from the default, so that a job without a plan of its own
 * has none. Editing the plan makes stale what was signed under another one.
 */
export function planFacts(plan: GatePlan): CoveredFacts {
  const usual = planOf(defaultPlan, plan.gate);
  const out: Record<string, string | boolean> = {};
  const path = `plan.${plan.gate}`;
  if (plan.point !== usual.point) out[`${path}.point`] = plan.point;
  if (plan.signs.join() !== usual.signs.join()) out[`${path}.signs`] = plan.signs.join(', ');
  if (plan.twoPeople !== usual.twoPeople) out[`${path}.twoPeople`] = plan.twoPeople;
  for (const item of plan.items) {
    const before = usual.items.find((one) => one.id === item.id);
    if (!before || itemWords(before) !== itemWords(item)) out[`${path}.items.${item.id}`] = itemWords(item);
  }
  for (const { id } of usual.items)
    if (!plan.items.some((item) => item.id === id)) out[`${path}.items.${id}`] = 'taken out';
  return out;
}
