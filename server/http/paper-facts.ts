import type { Request } from 'express';
import { gateRow } from '../../shared/gates/gates.ts';
import { punchList } from '../../shared/gates/punchList.ts';
import type { PaperConcession, PaperFacts, PaperSignature } from '../../shared/papers/facts.ts';
import type { FeedSnapshot } from '../../shared/protocol/events.ts';
import { paperLink } from '../../shared/protocol/papers.ts';
import { shortHead } from '../../shared/record/head.ts';
import { readStatement } from '../../shared/record/statement.ts';
import { limitWords } from '../../shared/rules/words.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { formatSi } from '../../shared/units/format.ts';
import { isoTime } from '../ambient.ts';
import type { Config } from '../config.ts';
import { recordHead } from '../record/record.ts';
import type { Project, SignOff } from '../storage/ports.ts';
import type { HttpParts } from './parts.ts';

/** The address codes on papers lead to: the one the asker came by, when it is one of this server's; else the first of them. */
export function originFor(req: Request, { origins }: Config): string {
  const host = req.get('host');
  return origins.find((origin) => new URL(origin).host === host) ?? origins[0] ?? '';
}

/** What stands on papers and in tables of a project, as of now; `origin` is where its codes lead to. */
export async function paperFacts(parts: HttpParts, project: Project, origin: string): Promise<PaperFacts> {
  const { records, live, clock } = parts;
  const [entries, snapshot, threads] = await Promise.all([
    live.entries(project.id),
    live.snapshot(project.id),
    parts.papers.threads(project.id),
  ]);
  const [signOffs, people, head, revisions] = await Promise.all([
    records.signOffs(project.id),
    records.participants(project.id),
    recordHead(project.id, { records, key: parts.recordKey, clock }),
    parts.revisions.list(project.id),
  ]);
  const [revision = null] = [...revisions].sort((a, b) => b.n - a.n);
  return {
    project: { id: project.id, name: project.name },
    printed: isoTime(clock()),
    seq: snapshot.seq,
    ruleSet: snapshot.ruleSet,
    revision,
    head: head ? shortHead(head.root) : '',
    spec: readSpec(entries),
    verdicts: snapshot.verdicts,
    gates: snapshot.gates,
    plan: snapshot.plan.plan.map(({ gate, signs, items, left }) => ({
      ...{ gate, signs, items, title: gateRow(gate).title, caution: gateRow(gate).caution },
      ...(left !== undefined && { left }),
    })),
    names: Object.fromEntries(people.map(({ account }) => [account.id, account.name])),
    threads,
    concessions: snapshot.concessions.map(concession),
    signatures: signOffs.flatMap(signature),
    punch: punchList({ ...snapshot, views: snapshot.gates, plan: snapshot.plan.plan, threads }),
    links: Object.fromEntries(
      snapshot.gates.map(({ gate, digest }) => [gate, paperLink(origin, { project: project.id, gate, digest })]),
    ),
  };
}

function concession({ concession, standing }: FeedSnapshot['concessions'][number]): PaperConcession {
  const { id, verdict, title, quantity, value, limit, reason, by, at, expires } = concession;
  return {
    ...{ id, verdict, title, reason, at, expires, by: by.name },
    value: formatSi(quantity, value),
    limit: limitWords(limit, quantity),
    state: standing.standing === 'lapsed' ? `lapsed: ${standing.because}` : standing.standing.replace('-', ' '),
  };
}

/** A row of the record as a signature; rows of other kinds, and what cannot be read, are left to the record itself. */
function signature({ seq, statement, hash }: SignOff): readonly PaperSignature[] {
  const said = readStatement(statement);
  if (!said || !('meaning' in said)) return [];
  const { gate, meaning, signer, at, digest } = said;
  return [{ seq, gate, meaning, role: signer.role, name: signer.name, at, digest, hash }];
}
