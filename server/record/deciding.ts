import type { Decided } from '../../shared/record/decided.ts';
import { CHAIN_START, rowHash, type Statement, statementText } from '../../shared/record/statement.ts';
import { verifyRow } from '../../shared/record/verifyRows.ts';
import { type Clock, isoTime, newId, type Random } from '../ambient.ts';
import type { Room } from '../rooms/room.ts';
import type { Account, Records, SignOff } from '../storage/ports.ts';
import { type ChainReading, recordRow, verifyChain } from './chain.ts';
import { signedHead } from './record.ts';
import type { RecordKey } from './recordKey.ts';
import { nodeChecks } from './signatures.ts';
import { decidedOf } from './statement.ts';

export interface DecidingParts {
  readonly records: Records;
  /** Signs the head of the record with the new row in it. */
  readonly key: RecordKey;
  readonly clock: Clock;
  readonly random: Random;
}

/** What every row of this server begins with. */
export interface RowStart {
  readonly version: 2;
  readonly project: string;
  readonly at: string;
  readonly nonce: string;
  readonly previous: string;
}

/** A row to write, or why there is none. */
export type Decision<No, Said extends Statement = Statement> =
  | { readonly ok: true; readonly by: Account; readonly gate: string; readonly statement: Said }
  | No;

/** Others kept writing at the same moment. */
export interface Busy {
  readonly ok: false;
  readonly code: 'not-ready';
  readonly detail: string;
}

/** Two people at the same moment: the second builds on the first's row. */
const ATTEMPTS = 5;

/**
 * Adds one row to a project's record. `judge` is given what has been decided so far and must answer at once, without waiting for
 * anything: the row is written only if it is the next one after what was judged. Nothing is written when it answers no.
 */
export async function decide<No extends { readonly ok: false }>(
  room: Room,
  parts: DecidingParts,
  judge: (decided: Decided, start: RowStart) => Decision<No>,
): Promise<{ readonly ok: true; readonly row: SignOff } | No | Busy> {
  const { project } = room;
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    // Nothing is awaited from here until the row is offered: decisions older than the row it builds on would let one person sign
    // twice at the same moment.
    const { rows, chain, start } = await standing(project, parts);
    const decision = judge(decidedOf(rows), start);
    if (!decision.ok) return decision;
    const row = rowOf(decision, { id: newId(parts.random), seq: rows.length + 1 });
    const index = chain.reached.peaks.size;
    const reached = verifyRow({ project, rows: [...rows, row].map(recordRow), index }, chain.reached, nodeChecks);
    if (!reached.ok) throw new Error(`a row of the record of project ${project} would not verify: ${reached.reason}`);
    const outcome = await parts.records.appendSignOff(row, signedHead(project, reached, parts));
    await room.decidedMore();
    if (outcome === 'appended') return { ok: true, row };
  }
  return { ok: false, code: 'not-ready', detail: 'others are writing the record at this moment; try again' };
}

/** What the answer would be now; nothing is written. */
export async function foresee<No extends { readonly ok: false }, Said extends Statement>(
  { project }: Room,
  parts: DecidingParts,
  judge: (decided: Decided, start: RowStart) => Decision<No, Said>,
): Promise<Decision<No, Said>> {
  const { rows, start } = await standing(project, parts);
  return judge(decidedOf(rows), start);
}

interface Standing {
  readonly rows: readonly SignOff[];
  readonly chain: Extract<ChainReading, { ok: true }>;
  readonly start: RowStart;
}

async function standing(project: string, { records, clock, random }: DecidingParts): Promise<Standing> {
  const rows = await records.signOffs(project);
  const chain = verifyChain(project, rows);
  if (!chain.ok) throw new Error(`the record of project ${project} is damaged: ${chain.reason}`);
  const previous = rows.at(-1)?.hash ?? CHAIN_START;
  return { rows, chain, start: { version: 2, project, at: isoTime(clock()), nonce: newId(random), previous } };
}

function rowOf(
  { by, gate, statement }: Extract<Decision<never>, { ok: true }>,
  { id, seq }: { readonly id: string; readonly seq: number },
): SignOff {
  const text = statementText(statement);
  const { project, previous, at } = statement;
  const hash = rowHash(previous, text);
  return {
    id,
    projectId: project,
    gate,
    seq,
    statement: text,
    hash,
    previousHash: previous,
    accountId: by.id,
    createdAt: at,
  };
}
