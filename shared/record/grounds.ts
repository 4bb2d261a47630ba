import { planDigest } from '../gates/plan.ts';
import { planFrom } from '../protocol/plan.ts';
import type { Statement } from './statement.ts';

/** What the rows of a record put in force so far. */
export interface Grounds {
  /** Hash of the row of the plan in force and SHA-256 of the plan; null: the default, which is another one in other releases. */
  readonly plan: { readonly row: string; readonly digest: string } | null;
  /** Hash of its row, by the id of every concession that was granted. */
  readonly granted: ReadonlyMap<string, string>;
  /** Ids of those that were ended. */
  readonly ended: ReadonlySet<string>;
}

/** Before the first row. */
export const noGrounds: Grounds = { plan: null, granted: new Map(), ended: new Set() };

/** The same with one row more. */
export function withGrounds(before: Grounds, statement: Statement, hash: string): Grounds {
  if (statement.version === 1) return before;
  switch (statement.kind) {
    case 'signature':
      return before;
    case 'plan':
      return { ...before, plan: { row: hash, digest: planDigest(planFrom(statement.plan)) } };
    case 'concession':
      return { ...before, granted: new Map([...before.granted, [statement.id, hash]]) };
    case 'concession-ended':
      return { ...before, ended: new Set([...before.ended, statement.id]) };
  }
}

/** In words, what a row says that the rows before it do not bear out; null when nothing. */
export function contradiction(statement: Statement, before: Grounds): string | null {
  if (statement.version === 1) return null;
  switch (statement.kind) {
    case 'plan': {
      const row = before.plan?.row ?? null;
      return statement.replaces === row ? null : 'it replaces a plan that was not in force';
    }
    case 'concession':
      return before.granted.has(statement.id) ? `concession ${statement.id} was granted before` : null;
    case 'concession-ended':
      return stands(before, { id: statement.id, hash: statement.concession })
        ? null
        : `it ends concession ${statement.id}, which was not in force`;
    case 'signature': {
      if (before.plan && before.plan.digest !== statement.plan) return 'it was given by a plan that was not in force';
      const odd = statement.concessions.find((one) => !stands(before, one));
      return odd ? `it rests on concession ${odd.id}, which was not in force` : null;
    }
  }
}

function stands({ granted, ended }: Grounds, { id, hash }: { readonly id: string; readonly hash: string }): boolean {
  return granted.get(id) === hash && !ended.has(id);
}
