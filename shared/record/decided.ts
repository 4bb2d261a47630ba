import type { Concession } from '../gates/concession.ts';
import { defaultPlan, planDigest } from '../gates/plan.ts';
import type { Signature } from '../gates/readiness.ts';
import { type PlanView, planFrom } from '../protocol/plan.ts';
import {
  type ConcessionRow,
  isSignature,
  type PlanRow,
  type SignatureV1,
  type SignatureV2,
  type Statement,
} from './statement.ts';

/** What the people of a job decided so far, as its record says. */
export interface Decided {
  readonly signatures: readonly Signature[];
  readonly plan: PlanView;
  /** Every one ever granted, oldest first. */
  readonly concessions: readonly Concession[];
}

/** A row of a record that was read and found whole. */
export interface DecidedRow {
  /** Id the row is kept under. */
  readonly id: string;
  readonly hash: string;
  readonly statement: Statement;
}

/** A signature from its row. */
export function signatureFrom({ id, hash }: DecidedRow, signed: SignatureV1 | SignatureV2): Signature {
  const { gate, signer, at, meaning, ruleSet, facts, digest } = signed;
  const { account, name, role } = signer;
  return { id, gate, account, name, role, at, meaning, ruleSet, facts, digest, hash };
}

const byOf = ({ signer: { account, name } }: PlanRow | ConcessionRow) => ({ account, name });

function planFromRow({ hash }: DecidedRow, row: PlanRow): PlanView {
  const plan = planFrom(row.plan);
  return { plan, digest: planDigest(plan), row: hash, by: byOf(row), at: row.at, reason: row.reason };
}

function concessionFrom({ hash }: DecidedRow, row: ConcessionRow): Concession {
  const { id, verdict, gate, title, quantity, value, limit, reason, at, expires } = row;
  return { id, verdict, gate, title, quantity, value, limit, reason, by: byOf(row), at, expires, hash };
}

/** The plan of a job that has none of its own. */
export const plannedByDefault: PlanView = {
  plan: defaultPlan,
  digest: planDigest(defaultPlan),
  row: null,
  by: null,
  at: null,
  reason: null,
};

/** Before the first row. */
export const nothingDecided: Decided = { signatures: [], plan: plannedByDefault, concessions: [] };

/** What a record's rows come to, oldest first. */
export function decidedBy(rows: readonly DecidedRow[]): Decided {
  const signatures: Signature[] = [];
  const concessions = new Map<string, Concession>();
  let plan = plannedByDefault;
  for (const row of rows) {
    const { statement } = row;
    if (isSignature(statement)) signatures.push(signatureFrom(row, statement));
    else if (statement.kind === 'plan') plan = planFromRow(row, statement);
    else if (statement.kind === 'concession') concessions.set(statement.id, concessionFrom(row, statement));
    else {
      const there = concessions.get(statement.id);
      const { reason, at, signer } = statement;
      const by = { account: signer.account, name: signer.name };
      if (there && !there.ended && there.hash === statement.concession)
        concessions.set(there.id, { ...there, ended: { reason, by, at } });
    }
  }
  return { signatures, plan, concessions: [...concessions.values()] };
}
