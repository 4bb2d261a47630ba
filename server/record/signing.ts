import { gateFacts, maySign, type SigningAnswer } from '../../shared/gates/readiness.ts';
import type { Role } from '../../shared/gates/roles.ts';
import type { SignRequest } from '../../shared/protocol/signing.ts';
import { CHAIN_START, rowHash, type Statement, statementText } from '../../shared/record/statement.ts';
import { verifyRow } from '../../shared/record/verifyRows.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { GateId } from '../../shared/spec/gateId.ts';
import { type Clock, isoTime, newId, type Random } from '../ambient.ts';
import type { Room } from '../rooms/room.ts';
import type { Account, Records, SignOff } from '../storage/ports.ts';
import { recordRow, verifyChain } from './chain.ts';
import { signedHead } from './record.ts';
import type { RecordKey } from './recordKey.ts';
import { filesOf, signatureOf, unitsOf } from './statement.ts';

export interface SigningParts {
  readonly records: Records;
  /** Signs the head of the record with the new row in it. */
  readonly key: RecordKey;
  readonly clock: Clock;
  readonly random: Random;
}

/** Who signs what; the password was confirmed before. */
export interface SigningWish {
  readonly gate: GateId;
  readonly request: SignRequest;
  readonly account: Account;
  readonly held: readonly Role[];
}

export type SigningOutcome = { readonly ok: true; readonly row: SignOff } | Exclude<SigningAnswer, { ok: true }>;

/** Two signers at the same moment: the second builds on the first's row. */
const ATTEMPTS = 5;

/**
 * Signs a gate for exactly the facts the signer named by digest. Everything is evaluated from scratch on the server's copy; if the
 * facts have moved, or anything holds the gate, nothing is written and the answer says why.
 */
export async function signGate(room: Room, wish: SigningWish, parts: SigningParts): Promise<SigningOutcome> {
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    // Read together, and nothing awaited until the row is offered: signatures older than the row it builds on would let one
    // person sign twice at the same moment.
    const rows = await parts.records.signOffs(room.project);
    const chain = verifyChain(room.project, rows);
    if (!chain.ok) throw new Error(`the record of project ${room.project} is damaged: ${chain.reason}`);
    const last = rows.at(-1);
    const evidence = room.evidence(rows.map(signatureOf));
    const view = evidence.gates.find((g) => g.gate === wish.gate);
    if (!view) throw new Error(`no gate ${wish.gate}`);
    if (wish.request.ruleSet !== RULE_SET) {
      return {
        ok: false,
        code: 'facts-moved',
        detail: `expected rule set ${RULE_SET}, got ${wish.request.ruleSet}; reload the page`,
      };
    }
    const answer = maySign(view, {
      digest: wish.request.digest,
      role: wish.request.role,
      account: wish.account.id,
      held: wish.held,
    });
    if (!answer.ok) return answer;
    const row = rowOf(room, wish, { parts, last, evidence });
    const index = chain.reached.peaks.size;
    const reached = verifyRow({ project: room.project, rows: [...rows, row].map(recordRow), index }, chain.reached);
    if (!reached.ok) throw new Error(`a sign-off of project ${room.project} would not verify: ${reached.reason}`);
    const head = signedHead(room.project, reached, parts);
    if ((await parts.records.appendSignOff(row, head)) === 'appended') {
      await room.signaturesChanged();
      return { ok: true, row };
    }
    await room.signaturesChanged();
  }
  return { ok: false, code: 'not-ready', detail: 'others are signing at this moment; try again' };
}

interface RowParts {
  readonly parts: SigningParts;
  readonly last: SignOff | undefined;
  readonly evidence: ReturnType<Room['evidence']>;
}

function rowOf(room: Room, { gate, request, account }: SigningWish, { parts, last, evidence }: RowParts): SignOff {
  const facts = gateFacts(gate, evidence.spec, rules);
  const at = isoTime(parts.clock());
  const previous = last?.hash ?? CHAIN_START;
  const statement: Statement = {
    version: 1,
    project: room.project,
    gate,
    meaning: request.meaning,
    signer: { account: account.id, name: account.name, role: request.role, confirmedBy: 'password' },
    at,
    ruleSet: RULE_SET,
    digest: request.digest,
    facts,
    units: unitsOf(facts),
    files: filesOf(facts),
    verdicts: evidence.verdicts
      .filter((v) => v.gate === gate)
      .map(({ key, status, digest }) => ({ key, status, digest }))
      .sort((a, b) => (a.key < b.key ? -1 : 1)),
    nonce: newId(parts.random),
    previous,
  };
  const text = statementText(statement);
  return {
    id: newId(parts.random),
    projectId: room.project,
    gate,
    seq: (last?.seq ?? 0) + 1,
    statement: text,
    hash: rowHash(previous, text),
    previousHash: previous,
    accountId: account.id,
    createdAt: at,
  };
}
