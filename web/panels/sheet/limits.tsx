import { overrideProblem } from '../../../shared/rules/override.ts';
import { findRule } from '../../../shared/rules/registry.ts';
import { whyWords } from '../../../shared/rules/words.ts';
import { removeElement } from '../../../shared/spec/commands.ts';
import type { JobLimit } from '../../../shared/spec/spec.ts';
import { formatSi } from '../../../shared/units/format.ts';
import { usePart } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

function valueWords({ id, least, most }: JobLimit): string {
  const rule = findRule(id);
  const show = (value: number): string => (rule ? formatSi(rule.quantity, value) : String(value));
  const parts = [least !== undefined && `at least ${show(least)}`, most !== undefined && `at most ${show(most)}`];
  return parts.filter(Boolean).join(', ');
}

/** The limits this job sets itself, with their defaults; they are set and changed beside the checks they are for. */
export function JobLimits(): React.ReactNode {
  const { session, canEdit } = useJob();
  const limits = usePart(session.spec, (spec) => spec.limits);
  return (
    <>
      {limits.map((row) => {
        const rule = findRule(row.id);
        const why = overrideProblem(row, rule);
        return (
          <div key={row.id} className="element job-limit" data-limit={row.id}>
            <p>
              {rule?.title ?? row.id}: {valueWords(row)}
            </p>
            <p className="quiet">
              {row.reason ?? 'no reason given'}
              {rule && `. Default: ${rule.limit}`}
            </p>
            {why && (
              <p className="problem" role="alert">
                Not used: {whyWords(why)}
              </p>
            )}
            {canEdit && (
              <button
                type="button"
                className="button"
                onClick={() => {
                  session.undo.stopCapturing();
                  removeElement(session.specDocument.doc, `limits.${row.id}`);
                }}
              >
                Back to the default
              </button>
            )}
          </div>
        );
      })}
      <p className="quiet">A limit for this job is set beside the check it is for.</p>
    </>
  );
}
