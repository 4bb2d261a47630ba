import { planDigest, planProblems } from '../../shared/gates/plan.ts';
import type { Role } from '../../shared/gates/roles.ts';
import { type PlanRequest, planFrom } from '../../shared/protocol/plan.ts';
import type { Room } from '../rooms/room.ts';
import type { Account, SignOff } from '../storage/ports.ts';
import { type Busy, type DecidingParts, decide } from './deciding.ts';

/** Who changes the plan to what; that it is he was confirmed before. */
export interface PlanWish {
  readonly request: PlanRequest;
  readonly account: Account;
  readonly held: readonly Role[];
}

interface PlanRefused {
  readonly ok: false;
  readonly code: 'wrong-role' | 'plan-refused' | 'facts-moved';
  readonly detail: string;
}
/** A row was written, or why none was. */
export type PlanOutcome = { readonly ok: true; readonly row: SignOff } | PlanRefused | Busy;

/** Puts another plan in force. Nothing is written when it cannot be worked by, or was made from one that is no longer in force. */
export function changePlan(
  room: Room,
  { request, account, held }: PlanWish,
  parts: DecidingParts,
): Promise<PlanOutcome> {
  const plan = planFrom(request.plan);
  const problems = planProblems(plan);
  return decide<PlanRefused>(room, parts, (decided, start) => {
    const no = (code: PlanRefused['code'], detail: string): PlanRefused => ({ ok: false, code, detail });
    if (!held.includes('lead')) return no('wrong-role', `expected a lead, got ${held.join(', ') || 'no role'}`);
    if (problems.length > 0) return no('plan-refused', problems.slice(0, 20).join('; '));
    if (decided.plan.row !== request.replaces)
      return no('facts-moved', 'somebody has changed the plan since you looked; read it again before you change it');
    if (decided.plan.digest === planDigest(plan)) return no('plan-refused', 'expected a change, got the plan in force');
    return {
      ok: true,
      by: account,
      gate: '',
      statement: {
        ...start,
        kind: 'plan',
        signer: { account: account.id, name: account.name, role: 'lead', confirmedBy: 'password' },
        plan: request.plan,
        reason: request.reason,
        replaces: request.replaces,
      },
    };
  });
}
