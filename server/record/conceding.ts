import { type ConcessionAnswer, mayConcede } from '../../shared/gates/concession.ts';
import type { Role } from '../../shared/gates/roles.ts';
import type { ConcessionEnd, ConcessionRequest } from '../../shared/protocol/concessions.ts';
import { findRule, RULE_SET } from '../../shared/rules/registry.ts';
import { quantityRow } from '../../shared/units/quantities.ts';
import type { Room } from '../rooms/room.ts';
import type { Account, SignOff } from '../storage/ports.ts';
import { type Busy, type DecidingParts, decide } from './deciding.ts';

interface Who {
  readonly account: Account;
  readonly held: readonly Role[];
}

/** Who accepts what; that it is he was confirmed before. */
export interface ConcedeWish extends Who {
  readonly request: ConcessionRequest;
}
/** Who takes which concession back. */
export interface EndWish extends Who {
  readonly id: string;
  readonly request: ConcessionEnd;
}

type Refused = Exclude<ConcessionAnswer, { ok: true }>;
interface NotThere {
  readonly ok: false;
  readonly code: 'not-found';
  readonly detail: string;
}
/** A row was written, or why none was. */
export type ConcedeOutcome = { readonly ok: true; readonly row: SignOff } | Refused | NotThere | Busy;

/** Accepts one value outside its limit. What it is and what it should be is evaluated from scratch on the server's copy. */
export function concede(room: Room, wish: ConcedeWish, parts: DecidingParts): Promise<ConcedeOutcome> {
  const { request, account, held } = wish;
  const { id, verdict: key, seen, reason, expires } = request;
  return decide<Refused>(room, parts, (decided, start) => {
    const { verdicts, now } = room.evidence(decided);
    const { concessions } = decided;
    const answer = mayConcede({ id, verdict: key, seen, expires, held }, { verdicts, concessions, now });
    if (!answer.ok) return answer;
    const { verdict } = answer;
    const rule = findRule(verdict.rule);
    if (!rule) throw new Error(`no rule ${verdict.rule}`);
    return {
      ok: true,
      by: account,
      gate: '',
      statement: {
        ...start,
        kind: 'concession',
        signer: { account: account.id, name: account.name, role: 'lead', confirmedBy: 'password' },
        ...{ id, verdict: key, seen, reason, expires },
        gate: verdict.gate,
        title: `${rule.title}: ${verdict.subject.name}`,
        quantity: rule.quantity,
        value: verdict.measured,
        unit: quantityRow(rule.quantity).units[0].symbol,
        limit: verdict.limit,
        ruleSet: RULE_SET,
      },
    };
  });
}

/** Takes a concession back. */
export function endConcession(room: Room, wish: EndWish, parts: DecidingParts): Promise<ConcedeOutcome> {
  const { id, request, account, held } = wish;
  return decide<Refused | NotThere>(room, parts, (decided, start) => {
    if (!held.includes('lead'))
      return { ok: false, code: 'wrong-role', detail: `expected a lead, got ${held.join(', ') || 'no role'}` };
    const there = decided.concessions.find((one) => one.id === id);
    if (!there) return { ok: false, code: 'not-found', detail: `there is no concession ${id}` };
    if (there.ended)
      return { ok: false, code: 'already-over', detail: `${there.ended.by.name} ended it on ${there.ended.at}` };
    return {
      ok: true,
      by: account,
      gate: '',
      statement: {
        ...start,
        kind: 'concession-ended',
        signer: { account: account.id, name: account.name, role: 'lead', confirmedBy: 'password' },
        ...{ id, concession: there.hash, reason: request.reason },
      },
    };
  });
}
