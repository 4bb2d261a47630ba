import { gateFacts } from '../../shared/gates/coverage.ts';
import { maySign, type SigningAnswer } from '../../shared/gates/maySign.ts';
import type { Role } from '../../shared/gates/roles.ts';
import type { OfferRequest } from '../../shared/protocol/signing.ts';
import type { Evidence } from '../../shared/record/assertion.ts';
import type { Decided } from '../../shared/record/decided.ts';
import { type SignatureV2, statementText } from '../../shared/record/statement.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { GateId } from '../../shared/spec/gateId.ts';
import type { Room } from '../rooms/room.ts';
import type { Account, Records, SignOff } from '../storage/ports.ts';
import { type DecidingParts, type Decision, decide, foresee, type RowStart } from './deciding.ts';
import { filesOf, unitsOf } from './statement.ts';

/** Who wants to sign what. */
export interface SigningWish {
  readonly gate: GateId;
  readonly request: OfferRequest;
  readonly account: Account;
  readonly held: readonly Role[];
}

/** A statement that was read and confirmed by its signer. */
export interface Confirmed {
  readonly statement: SignatureV2;
  readonly account: Account;
  readonly held: readonly Role[];
  /** The answer of his passkey, where that is how he confirmed it. */
  readonly evidence?: Evidence;
}

/** Why nothing can be signed. */
export type SigningRefused =
  | Exclude<SigningAnswer, { ok: true }>
  | { readonly ok: false; readonly code: 'record-moved'; readonly detail: string };
/** A row was written, or why none was. */
export type SigningOutcome = { readonly ok: true; readonly row: SignOff } | SigningRefused;
/** The statement as it would be signed now, or why there is none. */
export type OfferOutcome = { readonly ok: true; readonly statement: SignatureV2 } | SigningRefused;

/**
 * The statement as it would be signed now. Everything is evaluated from scratch on the server's copy; if the facts are not those the
 * signer named by digest, or anything holds the gate, the answer says why.
 */
export async function offerToSign(room: Room, wish: SigningWish, parts: DecidingParts): Promise<OfferOutcome> {
  const judge = await judging(room, wish, parts.records);
  const answer = await foresee<SigningRefused, SignatureV2>(room, parts, judge);
  if (!answer.ok) return answer;
  const { statement } = answer;
  const lost = await photoNotHere(room.project, statement, parts.records);
  if (lost === null) return { ok: true, statement };
  return no(
    'not-ready',
    `expected every photo of the checklist to be kept here, photo ${lost.slice(0, 16)} is not: remove it from its item, or add it again`,
  );
}

/** The first photo that the ticks name and the job does not hold: anybody who may tick can write any hash there. Photos are never taken away. */
async function photoNotHere(project: string, { facts }: SignatureV2, records: Records): Promise<string | null> {
  const named = Object.keys(facts).filter((path) => path.startsWith('ticks.') && path.endsWith('.photos'));
  for (const photo of named.flatMap((path) => String(facts[path]).split(' ')))
    if (!(await records.photo(project, photo))) return photo;
  return null;
}

/**
 * Signs exactly what was offered. All is evaluated once more: if the record has gone on, or anything the statement says is not so any
 * more, nothing is written.
 */
export async function signGate(room: Room, confirmed: Confirmed, parts: DecidingParts): Promise<SigningOutcome> {
  const { statement, account, held, evidence } = confirmed;
  const judge = await judging(
    room,
    { gate: statement.gate, request: requestOf(statement), account, held },
    parts.records,
  );
  return decide<SigningRefused>(room, parts, (decided, { previous, ...start }) => {
    const { at, nonce } = statement;
    const now = judge(decided, { ...start, at, nonce, previous });
    if (!now.ok) return now;
    if (previous !== statement.previous)
      return no('record-moved', 'somebody has signed or decided something since; read again what you sign');
    // Edits of other facts raise the journal number: what was read still holds at the number it names.
    if (statementText({ ...now.statement, seq: statement.seq }) !== statementText(statement))
      return no('facts-moved', 'what you read has changed since; read again what you sign');
    return { ...now, statement: evidence ? { ...statement, evidence } : statement };
  });
}

const no = (code: SigningRefused['code'], detail: string): SigningRefused => ({ ok: false, code, detail });

function requestOf({ signer, meaning, digest, ruleSet, initials = '' }: SignatureV2): OfferRequest {
  return { role: signer.role, confirmedBy: signer.confirmedBy, meaning, digest, ruleSet, initials };
}

async function judging(
  room: Room,
  wish: SigningWish,
  records: Records,
): Promise<(decided: Decided, start: RowStart) => Decision<SigningRefused, SignatureV2>> {
  const names = await fileNames(room.project, records);
  const { request, account, held } = wish;
  const { digest, role } = request;
  return (decided, start) => {
    const evidence = room.evidence(decided);
    const view = evidence.gates.find((g) => g.gate === wish.gate);
    if (!view) throw new Error(`no gate ${wish.gate}`);
    if (request.ruleSet !== RULE_SET)
      return no('facts-moved', `expected rule set ${RULE_SET}, got ${request.ruleSet}; reload the page`);
    const answer = maySign(view, { digest, role, account: account.id, held });
    if (!answer.ok) return answer;
    const conceded = decided.concessions.filter(({ id }) => view.concessions.includes(id));
    const statement = statementOf(wish, { start, decided, evidence, conceded, names });
    return { ok: true, by: account, gate: wish.gate, statement };
  };
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
  const { role, confirmedBy, meaning, initials, digest } = request;
  return {
    ...start,
    kind: 'signature',
    gate,
    meaning,
    initials,
    signer: { account: account.id, name: account.name, role, confirmedBy },
    seq: evidence.seq,
    plan: decided.plan.digest,
    concessions: conceded.map(({ id, hash }) => ({ id, hash })),
    ruleSet: RULE_SET,
    digest,
    facts,
    units: unitsOf(facts),
    files: filesOf(facts, names),
    verdicts: evidence.verdicts
      .filter((v) => v.gate === gate)
      .map(({ key, status, digest }) => ({ key, status, digest }))
      .sort((a, b) => (a.key < b.key ? -1 : 1)),
  };
}
