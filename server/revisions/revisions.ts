import { createHash } from 'node:crypto';
import { storedWords } from '../../shared/gates/changeWords.ts';
import { factTitle } from '../../shared/gates/factWords.ts';
import type {
  ChangeView,
  Comparison,
  HistoryQuery,
  HistoryView,
  NewRevision,
  RevisionView,
} from '../../shared/protocol/revisions.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import { canonical } from '../../shared/spec/digest.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { revisionLetter } from '../../shared/spec/revisionLetter.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import { type Clock, isoTime, newId, type Random } from '../ambient.ts';
import type { ChangePlace, ChangeQuery, KeptChange } from '../storage/changes.ts';
import type { Blobs, Records } from '../storage/ports.ts';
import type { Revision } from '../storage/revisions.ts';
import { runnersOf, sectionsOf, verdictsOf } from './comparison.ts';
import { type JudgingParts, judgeAll } from './judging.ts';

/** Entries of a spec document. */
export type SpecEntries = ReadonlyMap<string, unknown>;

/** What revisions need of the server. */
export interface RevisionParts extends JudgingParts {
  readonly records: Pick<Records, 'addRevision' | 'revision' | 'revisions' | 'account'>;
  readonly blobs: Pick<Blobs, 'write' | 'read'>;
  /** The spec document as it is on disk, never ahead of it, and the journal number up to which that is. */
  readonly state: (project: string) => Promise<{ readonly entries: SpecEntries; readonly seq: number }>;
  readonly changes: (query: ChangeQuery) => Promise<readonly KeptChange[]>;
  /** Tells who is looking. */
  readonly added: (project: string, revisions: readonly RevisionView[]) => void;
  readonly clock: Clock;
  readonly random: Random;
}

/** Named states of a job's spec, what differs between them, and who changed what. */
export class Revisions {
  private readonly parts: RevisionParts;

  constructor(parts: RevisionParts) {
    this.parts = parts;
  }

  async list(project: string): Promise<readonly RevisionView[]> {
    const rows = await this.parts.records.revisions(project);
    const who = this.people();
    return Promise.all(rows.map((row) => viewOf(row, who)));
  }

  /** Keeps the state now as a revision. */
  async make(project: string, by: string, { name, note }: NewRevision): Promise<RevisionView> {
    const { records, blobs, clock, random } = this.parts;
    const { entries, seq } = await this.parts.state(project);
    const { sha256 } = await blobs.write(new TextEncoder().encode(canonical(Object.fromEntries(entries))));
    const row = { id: newId(random), projectId: project, name, note, seq, sha256, ruleSet: RULE_SET, by };
    const made = await records.addRevision({ ...row, createdAt: isoTime(clock()) });
    this.parts.added(project, await this.list(project));
    return viewOf(made, this.people());
  }

  /** A revision with its entries; undefined when the project has none of that id. Throws when what is stored is not what was kept. */
  async state(
    project: string,
    id: string,
  ): Promise<{ readonly revision: RevisionView; readonly entries: SpecEntries } | undefined> {
    const row = await this.parts.records.revision(project, id);
    return row && { revision: await viewOf(row, this.people()), entries: await this.entriesOf(row) };
  }

  /** What differs between two states, each the id of a revision or `now`; the one that is not there when one is not. */
  async compare(project: string, before: string, after: string): Promise<Comparison | { readonly missing: string }> {
    const [from, to] = [await this.end(project, before), await this.end(project, after)];
    if (!from) return { missing: before };
    if (!to) return { missing: after };
    const specs = { before: from.spec, after: to.spec };
    const [was, is] = await judgeAll([specs.before, specs.after], this.parts);
    return {
      before: { revision: from.revision, seq: from.seq },
      after: { revision: to.revision, seq: to.seq },
      sections: sectionsOf(specs),
      ...verdictsOf({ before: was ?? new Map(), after: is ?? new Map() }),
      runners: runnersOf(specs),
    };
  }

  async history(project: string, { path, since, before, limit }: HistoryQuery): Promise<HistoryView> {
    const spec = readSpec((await this.parts.state(project)).entries);
    const found = await this.parts.changes({
      project,
      // One more than asked for tells whether there is more.
      limit: limit + 1,
      ...(path !== undefined && { path }),
      ...(since !== undefined && { after: placeOf(since, Number.MAX_SAFE_INTEGER) }),
      ...(before !== undefined && { before: placeOf(before, 0) }),
    });
    const changes = found.slice(0, limit);
    const last = changes.at(-1);
    const who = this.people();
    return {
      changes: await Promise.all(changes.map((change) => changeOf(change, spec, who))),
      more: found.length > limit && last ? `${last.seq}.${last.n}` : null,
    };
  }

  private async end(
    project: string,
    which: string,
  ): Promise<{ readonly revision: RevisionView | null; readonly seq: number; readonly spec: Spec } | undefined> {
    if (which === 'now') {
      const { entries, seq } = await this.parts.state(project);
      return { revision: null, seq, spec: readSpec(entries) };
    }
    const found = await this.state(project, which);
    return found && { revision: found.revision, seq: found.revision.seq, spec: readSpec(found.entries) };
  }

  private async entriesOf({ sha256, id }: Revision): Promise<SpecEntries> {
    const stream = await this.parts.blobs.read(sha256);
    if (!stream) throw new Error(`the store has lost the entries of revision ${id}`);
    const chunks: Buffer[] = [];
    for await (const chunk of stream) chunks.push(Buffer.from(chunk));
    const bytes = Buffer.concat(chunks);
    if (createHash('sha256').update(bytes).digest('hex') !== sha256)
      throw new Error(`the entries of revision ${id} are not as they were kept`);
    const entries: unknown = JSON.parse(bytes.toString('utf8'));
    return new Map(Object.entries(Object(entries)));
  }

  /** Names of accounts, each asked for once. */
  private people(): Who {
    const known = new Map<string, Promise<RevisionView['by']>>();
    return (account) => {
      const person =
        known.get(account) ??
        this.parts.records.account(account).then((row) => ({ account, name: row?.name ?? account }));
      known.set(account, person);
      return person;
    };
  }
}

type Who = (account: string) => Promise<RevisionView['by']>;

async function viewOf({ projectId: _, n, sha256, createdAt, ...rest }: Revision, who: Who): Promise<RevisionView> {
  return { ...rest, n, letter: revisionLetter(n), digest: sha256, by: await who(rest.by), at: createdAt };
}

async function changeOf(change: KeptChange, spec: Spec, who: Who): Promise<ChangeView> {
  const { seq, path, account, at, before, after } = change;
  return {
    ...{ seq, path, title: factTitle(path, spec) },
    ...{ from: storedWords(path, before, spec), to: storedWords(path, after, spec) },
    ...{ by: await who(account), at: at === null ? null : isoTime(at) },
  };
}

/** `12` or `12.3` as a place; without the part after the dot the given one. */
function placeOf(text: string, n: number): ChangePlace {
  const [seq = '0', place] = text.split('.');
  return { seq: Number(seq), n: place === undefined ? n : Number(place) };
}
