import { useState } from 'react';
import { gateRow } from '../../../shared/gates/gates.ts';
import { rules } from '../../../shared/rules/registry.ts';
import { type VerdictWords, verdictWords } from '../../../shared/rules/words.ts';
import { type GateId, gateIds } from '../../../shared/spec/gateId.ts';
import { sourceWords } from '../../../shared/trade/source.ts';
import { usePart, useStore } from '../../state/store.ts';
import type { ShownVerdict } from '../../state/verdicts.ts';
import { Mark, type MarkKind, Tag } from '../../ui/marks.tsx';
import { useJob } from '../job/context.ts';
import { AcceptOutside, numberOf } from '../line/concessions.tsx';
import { Feeler } from './feeler.tsx';
import { JobLimitActs, StrayLimits } from './jobLimit.tsx';

type Rule = (typeof rules)[number];

/** Worst first: what stops the job is on top. */
const WORST: readonly MarkKind[] = ['outside', 'unknown', 'pending', 'caution', 'near', 'within', 'none'];

/** Told once for each verdict: a node that is dragged leaves most of some hundred as they are, and sorting asks for each many times. */
const told = new WeakMap<ShownVerdict['verdict'], VerdictWords>();

/** Mark and words of a shown verdict; one not yet judged by the server is drawn as being checked. */
export function wordsOf(
  { verdict, provisional }: ShownVerdict,
  rule: Rule,
): VerdictWords & { readonly provisional: boolean } {
  const words = told.get(verdict) ?? verdictWords(verdict, rule);
  told.set(verdict, words);
  return { ...words, provisional };
}

function rank(shown: ShownVerdict, rule: Rule): number {
  return WORST.indexOf(wordsOf(shown, rule).mark);
}

function VerdictDetail({ shown, rule }: { readonly shown: ShownVerdict; readonly rule: Rule }): React.ReactNode {
  const words = wordsOf(shown, rule);
  const { source } = rule;
  const { verdict } = shown;
  return (
    <dl className="verdict-detail">
      {words.message && (
        <>
          <dt>Finding</dt>
          <dd>{words.message}</dd>
        </>
      )}
      {words.why && (
        <>
          <dt>Why unknown</dt>
          <dd>{words.why}</dd>
        </>
      )}
      <dt>Limit</dt>
      <dd>
        {words.jobLimit ? (
          <>
            {words.limit}
            <p className="own-note">{words.jobLimit}</p>
          </>
        ) : (
          rule.limit
        )}
        <JobLimitActs rule={rule} />
        <AcceptOutside verdict={verdict} />
      </dd>
      {'limitNote' in verdict && verdict.limitNote && (
        <>
          <dt>Limit from</dt>
          <dd>{verdict.limitNote}</dd>
        </>
      )}
      {words.ownMaterial && (
        <>
          <dt>Material</dt>
          <dd>{words.ownMaterial}</dd>
        </>
      )}
      <dt>Source</dt>
      <dd>{sourceWords(source)}</dd>
      <dt>Holds for</dt>
      <dd>{rule.validity}</dd>
      <dt>At stake</dt>
      <dd>{rule.hazard}</dd>
      <dt>Change first</dt>
      <dd>{rule.remedy}</dd>
      <dt>Facts</dt>
      <dd className="digest">{verdict.digest}</dd>
    </dl>
  );
}

/** Number, from 1, of the concession that covers a verdict now; 0 when none does. */
function useAccepted(key: string): number {
  const { session } = useJob();
  return usePart(session.feed.state, ({ conceded }) =>
    numberOf(conceded, ({ concession, standing }) => concession.verdict === key && standing.standing === 'in-force'),
  );
}

function VerdictRow({ shown, rule }: { readonly shown: ShownVerdict; readonly rule: Rule }): React.ReactNode {
  const { session } = useJob();
  const words = wordsOf(shown, rule);
  const focus = useStore(session.focus);
  const { key } = shown.verdict;
  const accepted = useAccepted(key);
  const open = focus?.kind === 'verdict' && focus.id === key;
  return (
    <li
      className={`verdict${open ? ' verdict-open' : ''}${words.provisional ? ' provisional' : ''}`}
      data-verdict={key}
      data-status={shown.verdict.status}
      ref={(row) => void (open && row?.scrollIntoView({ block: 'nearest' }))}
    >
      <button
        type="button"
        className="verdict-row"
        aria-expanded={open}
        onClick={() => session.focus.set(open ? null : { kind: 'verdict', id: key })}
      >
        <span className="verdict-subject">{shown.verdict.subject.name}</span>
        <span className="verdict-measured">{words.measured}</span>
        <Feeler verdict={shown.verdict} />
        {accepted > 0 ? (
          <Tag kind="conceded" text={`CONCESSION ${accepted}: ${words.label}`} />
        ) : (
          <Tag kind={words.mark} text={words.label} />
        )}
        {(words.jobLimit || words.ownMaterial) && (
          <span className="own-note">
            {[words.jobLimit && 'limit set by this job', words.ownMaterial && 'own material']
              .filter(Boolean)
              .join(', ')}
          </span>
        )}
        {words.provisional && words.mark !== 'pending' && (
          <span className="provisional-note">not yet checked by the server</span>
        )}
      </button>
      {open && <VerdictDetail shown={shown} rule={rule} />}
    </li>
  );
}

function RuleBlock({
  rule,
  list,
  all,
}: {
  readonly rule: Rule;
  readonly list: readonly ShownVerdict[];
  readonly all: boolean;
}): React.ReactNode {
  const sorted = [...list].sort((a, b) => rank(a, rule) - rank(b, rule) || (a.verdict.key < b.verdict.key ? -1 : 1));
  const worst = sorted[0];
  const open = sorted.filter((s) => rank(s, rule) <= WORST.indexOf('near'));
  const [more, setMore] = useState(false);
  const shownRows = all || more ? sorted : open;
  if (!worst) return null;
  return (
    <section className="rule" aria-label={rule.title}>
      <h4 className="rule-title">
        <Mark kind={wordsOf(worst, rule).mark} />
        <button type="button" className="rule-toggle" aria-expanded={more} onClick={() => setMore(!more)}>
          {rule.title}
          <span className="quiet">
            {' '}
            {list.length - open.length} of {list.length} clear
          </span>
        </button>
      </h4>
      {shownRows.length > 0 && (
        <ul className="verdicts">
          {shownRows.map((s) => (
            <VerdictRow key={s.verdict.key} shown={s} rule={rule} />
          ))}
        </ul>
      )}
    </section>
  );
}

function GateBlock({ gate, all }: { readonly gate: GateId; readonly all: boolean }): React.ReactNode {
  const { session } = useJob();
  const verdicts = useStore(session.verdicts);
  const own = rules.filter((r) => r.gate === gate);
  const lists = own.map((rule) => ({ rule, list: [...verdicts.values()].filter((v) => v.verdict.rule === rule.id) }));
  const worst = ({ rule, list }: (typeof lists)[number]): number =>
    Math.min(...list.map((s) => rank(s, rule)), WORST.length);
  lists.sort((a, b) => worst(a) - worst(b));
  if (own.length === 0) return null;
  return (
    <section className="gate-checks" aria-label={`${gateRow(gate).title} checks`}>
      <h3>{gateRow(gate).title}</h3>
      {lists.map(({ rule, list }) => (
        <RuleBlock key={rule.id} rule={rule} list={list} all={all} />
      ))}
    </section>
  );
}

/** Counts of verdicts by status, for the header and for phones. */
export function VerdictCounts(): React.ReactNode {
  const { session } = useJob();
  const verdicts = useStore(session.verdicts);
  const counts = new Map<MarkKind, number>();
  for (const shown of verdicts.values()) {
    const rule = rules.find((r) => r.id === shown.verdict.rule);
    if (rule) counts.set(wordsOf(shown, rule).mark, (counts.get(wordsOf(shown, rule).mark) ?? 0) + 1);
  }
  const shown = [
    ['outside', 'fail'],
    ['unknown', 'no data'],
    ['pending', 'checking'],
    ['caution', 'caution'],
    ['near', 'close'],
    ['within', 'pass'],
  ] as const;
  return (
    <p className="counts" aria-live="polite">
      {shown.map(([mark, word]) => (
        <span key={mark} className="count" data-count={mark}>
          <Mark kind={mark} /> {counts.get(mark) ?? 0} {word}
        </span>
      ))}
    </p>
  );
}

/** All verdicts, by gate and rule, what stops the job first. */
export function Checks(): React.ReactNode {
  const [all, setAll] = useState(false);
  return (
    <section className="checks" aria-label="Checks">
      <VerdictCounts />
      <StrayLimits />
      <label className="check-all">
        <input type="checkbox" checked={all} onChange={(e) => setAll(e.target.checked)} /> Show what is clear, too
      </label>
      {gateIds.map((gate) => (
        <GateBlock key={gate} gate={gate} all={all} />
      ))}
      <p className="quiet">A verdict is a check, not an approval. Qualified people and local codes decide.</p>
    </section>
  );
}
