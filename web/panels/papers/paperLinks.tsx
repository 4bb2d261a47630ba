import { useEffect, useState } from 'react';
import { paperLinksSchema } from '../../../shared/protocol/papers.ts';
import { call } from '../../sync/api.ts';
import { useJob } from '../job/context.ts';

/** Whether the codes on papers answer people who are not signed in: everybody sees it, the lead sets it. */
export function PaperLinks(): React.ReactNode {
  const { session } = useJob();
  const path = `/api/projects/${session.project.id}/paper-links`;
  const [allowed, setAllowed] = useState<boolean | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const show = (asked: Promise<{ readonly allowed: boolean }>): void =>
    void asked.then(
      (answer) => {
        setAllowed(answer.allowed);
        setProblem(null);
      },
      (error: unknown) => setProblem(error instanceof Error ? error.message : String(error)),
    );
  // biome-ignore lint/correctness/useExhaustiveDependencies: asked once for each job.
  useEffect(() => show(call('GET', path, { schema: paperLinksSchema })), [path]);
  const isLead = session.project.roles.includes('lead');
  return (
    <section aria-label="Codes on papers">
      <label className="paper-links">
        <input
          type="checkbox"
          checked={allowed === true}
          disabled={!isLead || allowed === null}
          onChange={(e) => show(call('PUT', path, { body: { allowed: e.target.checked }, schema: paperLinksSchema }))}
        />
        <span>
          Codes on papers tell anybody who scans them whether the paper is current, and nothing else.{' '}
          {!isLead && <span className="quiet">The lead sets this.</span>}
        </span>
      </label>
      {problem !== null && (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
    </section>
  );
}
