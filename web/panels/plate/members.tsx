import { useState } from 'react';
import type { ProjectDetail } from '../../../shared/protocol/http.ts';
import { useStore } from '../../state/store.ts';
import { call, nothing } from '../../sync/api.ts';
import { useJob } from '../job/context.ts';
import { useWork } from '../notices/useWork.ts';

type Member = ProjectDetail['members'][number];

/** Who is in the job; a lead takes somebody out, after being asked again. */
export function Members(): React.ReactNode {
  const { session, canManage } = useJob();
  const known = useStore(session.members);
  const [gone, setGone] = useState<readonly string[]>([]);
  const [asked, setAsked] = useState<string | null>(null);
  const { problem, busy, work } = useWork();
  const takeOut = (id: string) =>
    work(async () => {
      await call('DELETE', `/api/projects/${session.project.id}/members/${id}`, { schema: nothing });
      setGone([...gone, id]);
    }).finally(() => setAsked(null));
  const act = ({ account }: Member): React.ReactNode =>
    asked === account.id ? (
      <button type="button" className="button" disabled={busy} onClick={() => void takeOut(account.id)}>
        Yes, take {account.name} out
      </button>
    ) : (
      <button
        type="button"
        className="button"
        aria-label={`Take ${account.name} out`}
        onClick={() => setAsked(account.id)}
      >
        Take out
      </button>
    );
  return (
    <section className="notice-ways" aria-label="Who is in it">
      <h3>Who is in it</h3>
      <ul className="notice-hooks">
        {known
          .filter(({ account }) => !gone.includes(account.id))
          .map((member) => (
            <li key={member.account.id} data-member={member.account.login}>
              <span className="notice-words">
                {member.account.name} <span className="quiet">{member.roles.join(', ')}</span>
              </span>
              {canManage && member.account.id !== session.me && act(member)}
            </li>
          ))}
      </ul>
      <p className="quiet">What somebody did stays. Taken out, they see nothing of the job any more, at once.</p>
      {problem && (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
    </section>
  );
}
