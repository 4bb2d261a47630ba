import { useId, useState } from 'react';
import { type Adjusted, jobLimit, limitProblems } from '../../../shared/rules/override.ts';
import { findRule } from '../../../shared/rules/registry.ts';
import { whyWords } from '../../../shared/rules/words.ts';
import { removeElement, setLimit } from '../../../shared/spec/commands.ts';
import { collections } from '../../../shared/spec/fields.ts';
import { displayUnit } from '../../../shared/units/quantities.ts';
import { draftOf, type LimitDraft, limitSides, readDraft } from '../../state/limitDraft.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

const sideWords = { least: 'At least', most: 'At most' } as const;

interface FormProps {
  readonly rule: Adjusted & { readonly adjustable: 'max' | 'min' | 'range'; readonly limit: string };
  readonly close: () => void;
}

function LimitForm({ rule, close }: FormProps): React.ReactNode {
  const { session } = useJob();
  const { doc } = session.specDocument;
  const row = usePart(session.spec, (spec) => jobLimit(spec, rule.id));
  const [draft, setDraft] = useState<LimitDraft>(() => draftOf(rule, row));
  const [problem, setProblem] = useState<string | null>(null);
  const id = useId();
  const unit = displayUnit(rule.quantity).symbol;
  const save = (): void => {
    const read = readDraft(rule, draft, row);
    setProblem(read.ok ? null : read.problem);
    if (!read.ok) return;
    session.undo.stopCapturing();
    setLimit(doc, rule.id, read.values);
    close();
  };
  return (
    <form
      className="limit-form"
      aria-label="Limit for this job"
      onSubmit={(e) => {
        e.preventDefault();
        save();
      }}
    >
      <p className="quiet">Default: {rule.limit}. The limit of this job holds for every verdict of this check.</p>
      {limitSides[rule.adjustable].map((side) => (
        <label key={side}>
          {sideWords[side]}
          <input
            className="input-number"
            name={side}
            inputMode="decimal"
            autoComplete="off"
            value={draft[side]}
            aria-describedby={`${id}-problem`}
            onChange={(e) => setDraft({ ...draft, [side]: e.target.value })}
          />
          {unit !== '1' && <span className="unit">{unit}</span>}
        </label>
      ))}
      <label>
        Reason
        <input
          className="input-text"
          name="reason"
          autoComplete="off"
          maxLength={collections.limits.reason.maxLength}
          value={draft.reason}
          onChange={(e) => setDraft({ ...draft, reason: e.target.value })}
        />
      </label>
      <p id={`${id}-problem`} className="field-problem" role="alert" hidden={problem === null}>
        {problem}
      </p>
      <div className="acts">
        <button type="submit" className="button button-main">
          Set the limit
        </button>
        <button type="button" className="button" onClick={close}>
          Leave it
        </button>
      </div>
    </form>
  );
}

/** Sets a limit for this job in place of the default, and takes it back; nothing where the rule allows none. */
export function JobLimitActs({ rule }: { readonly rule: Adjusted & { readonly limit: string } }): React.ReactNode {
  const { session, canEdit } = useJob();
  const row = usePart(session.spec, (spec) => jobLimit(spec, rule.id));
  const [open, setOpen] = useState(false);
  const { adjustable } = rule;
  if (!canEdit || (!adjustable && !row)) return null;
  if (open && adjustable) return <LimitForm rule={{ ...rule, adjustable }} close={() => setOpen(false)} />;
  const back = (): void => {
    session.undo.stopCapturing();
    removeElement(session.specDocument.doc, `limits.${rule.id}`);
  };
  return (
    <div className="acts">
      {adjustable && (
        <button type="button" className="button" onClick={() => setOpen(true)}>
          {row ? 'Change the limit of this job' : 'Set a limit for this job'}
        </button>
      )}
      {row && (
        <button type="button" className="button" onClick={back}>
          Back to the default
        </button>
      )}
    </div>
  );
}

/** Limits that no check takes up: they would show at no verdict. */
export function StrayLimits(): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.spec);
  const stray = limitProblems(spec, findRule).filter(({ row }) => findRule(row.id) === null);
  return stray.map(({ row, why }) => (
    <p key={row.id} className="problem" role="alert">
      A limit set for this job is not used: {whyWords(why)}. Take it out in the sheet, under Limits set for this job.
    </p>
  ));
}
