import { gateFacts } from '../../shared/gates/coverage.ts';
import { maySign, type SigningAnswer } from '../../shared/gates/maySign.ts';
import type { Role } from '../../shared/gates/roles.ts';
import type { SignRequest } from '../../shared/protocol/signing.ts';
import type { Decided } from '../../shared/record/decided.ts';
import type { SignatureV2 } from '../../shared/record/statement.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { GateId } from '../../shared/spec/gateId.ts';
import type { Room } from '../rooms/room.ts';
import type { Account, Records, SignOff } from '../storage/ports.ts';
import { type DecidingParts, decide, type RowStart } from './deciding.ts';
import { filesOf, unitsOf } from './statement.ts';

/** Who signs what; that it is he was confirmed before. */
export interface SigningWish {
  readonly gate: GateId;
  readonly request: SignRequest;
  readonly account: Account;
  readonly held: readonly Role[];
}

/** A row was written, or why none was. */
export type SigningOutcome = { readonly ok: true; readonly row: SignOff } | Exclude<SigningAnswer, { ok: true }>;

/**
 * Signs a gate for exactly the facts the signer named by digest. Everything is evaluated from scratch on the server's copy; if the
 * facts have moved, or anything holds the gate, nothing is written and the answer says why.
 */
export async function signGate(room: Room, wish: SigningWish, parts: DecidingParts): Promise<SigningOutcome> {
  const names = await fileNames(room.project, parts.records);
  const { request, account, held } = wish;
  const { digest, role } = request;
  return decide<Exclude<SigningAnswer, { ok: true }>>(room, parts, (decided, start) => {
    const evidence = room.evidence(decided);
    const view = evidence.gates.find((g) => g.gate === wish.gate);
    if (!view) throw new Error(`no gate ${wish.gate}`);
    if (request.ruleSet !== RULE_SET) {
      const detail = `expected rule set ${RULE_SET}, got ${request.ruleSet}; reload the page`;
      return { ok: false, code: 'facts-moved', detail };
    }
    const answer = maySign(view, { digest, role, account: account.id, held });
    if (!answer.ok) return answer;
    const conceded = decided.concessions.filter(({ id }) => view.concessions.includes(id));
    const statement = statementOf(wish, { start, decided, evidence, conceded, names });
    return { ok: true, by: account, gate: wish.gate, statement };
  });
}

/** Names that scans and parts of a project came under, by content. */
async function fileNames(project: string, records: Records): Promise<ReadonlyMap<string, string>> {
  const [scans, parts] = await Promise.all([records.scans(project), records.parts(project)]);
  return new Map([...scans, ...parts].map(({ sha256, name }) => [sha256, name]));
}

interface Ground {
  readonly start: RowStart;
  readonly decided: Decided;
  readonly evidence: ReturnType<Room['evidence']>;
  readonly conceded: Decided['concessions'];
  readonly names: ReadonlyMap<string, string>;
}

function statementOf({ gate, request, account }: SigningWish, ground: Ground): SignatureV2 {
  const { start, decided, evidence, conceded, names } = ground;
  const facts = gateFacts(gate, evidence.spec, rules, { plan: decided.plan.plan, conceded });
  return {
    ...start,
    kind: 'signature',
    gate,
    meaning: request.meaning,
    signer: { account: account.id, name: account.name, role: request.role, confirmedBy: 'password' },
    seq: evidence.seq,
    plan: decided.plan.digest,
    concessions: conceded.map(({ id, hash }) => ({ id, hash })),
    ruleSet: RULE_SET,
    digest: request.digest,
    facts,
    units: unitsOf(facts),
    files: filesOf(facts, names),
    verdicts: evidence.verdicts
      .filter((v) => v.gate === gate)
      .map(({ key, status, digest }) => ({ key, status, digest }))
      .sort((a, b) => (a.key < b.key ? -1 : 1)),
  };
}
