import { useState } from 'react';
import { useStore } from '../../state/store.ts';
import { initials } from '../../ui/fieldInput.tsx';
import { useJob } from '../job/context.ts';
import { ForYou } from '../notices/forYou.tsx';
import { NoticesDialog } from '../notices/noticesDialog.tsx';
import { PapersDialog } from '../papers/papersDialog.tsx';
import { PasskeysDialog } from '../passkeys/passkeysDialog.tsx';
import { RevisionsDialog } from '../revisions/revisionsDialog.tsx';
import { TokensDialog } from '../tokens/tokensDialog.tsx';
import { InviteDialog } from './invite.tsx';
import { KeepChip } from './keepChip.tsx';
import { More } from './more.tsx';

function People(): React.ReactNode {
  const { session } = useJob();
  const present = useStore(session.specDocument.present);
  const me = session.project.members.find((m) => m.account.id === session.me);
  const byAccount = new Map(present.map((p) => [p.account, p]));
  // The server echoes presence to everybody else; oneself is known without it.
  if (me)
    byAccount.set(session.me, {
      account: session.me,
      name: me.account.name,
      roles: me.roles,
      field: null,
      client: 0,
      me: true,
    });
  return (
    <ul className="people" aria-label="Present now">
      {[...byAccount.values()].map((p) => (
        <li
          key={p.account}
          className={p.account === session.me ? 'person me' : 'person'}
          data-person={p.account}
          title={`${p.name}, ${p.roles.join(', ')}${p.account === session.me ? ' (you)' : ''}`}
        >
          <span className="initials">{initials(p.name)}</span>
          <span className="person-name">{p.account === session.me ? `${p.name} (you)` : p.name}</span>
        </li>
      ))}
    </ul>
  );
}

/** The top strip: which job, where the edits are kept, who is here. Cells like a stamped data plate. */
export function JobPlate({
  onLeave,
  onSignOut,
}: {
  readonly onLeave: () => void;
  readonly onSignOut: () => void;
}): React.ReactNode {
  const { session, canInvite, canEdit } = useJob();
  const spec = useStore(session.spec);
  const [inviting, setInviting] = useState(false);
  const [papers, setPapers] = useState(false);
  const [revising, setRevising] = useState(false);
  const [keys, setKeys] = useState(false);
  const [noticing, setNoticing] = useState(false);
  const [tokens, setTokens] = useState(false);
  return (
    <header className="plate">
      <button type="button" className="plate-cell plate-home" onClick={onLeave}>
        Slipjoint
        <span className="quiet">all jobs</span>
      </button>
      <div className="plate-cell plate-title">
        <h1>{session.project.name}</h1>
        <span className="quiet">
          {spec.project.car ?? ''}
          {spec.project.event ? ` · event ${spec.project.event}` : ''}
        </span>
      </div>
      <KeepChip />
      <ForYou />
      <div className="plate-cell plate-people">
        <People />
        {canInvite && (
          <button type="button" className="button" onClick={() => setInviting(true)}>
            Invite
          </button>
        )}
      </div>
      <div className="plate-cell plate-acts">
        {canEdit && (
          <>
            <button
              type="button"
              className="button"
              onClick={() => session.undo.undo()}
              title="Take back your last edit"
            >
              Undo
            </button>
            <button type="button" className="button" onClick={() => session.undo.redo()} title="Do it again">
              Redo
            </button>
          </>
        )}
        <More
          acts={[
            { label: 'Revisions', act: () => setRevising(true) },
            { label: 'Papers', act: () => setPapers(true) },
            { label: 'Passkeys', act: () => setKeys(true) },
            { label: 'Mail and posts', act: () => setNoticing(true) },
            { label: 'Keys for scripts', act: () => setTokens(true) },
            { label: 'Sign out', act: onSignOut },
          ]}
        />
      </div>
      {revising && <RevisionsDialog onClose={() => setRevising(false)} />}
      {papers && <PapersDialog onClose={() => setPapers(false)} />}
      {keys && <PasskeysDialog onClose={() => setKeys(false)} />}
      {noticing && <NoticesDialog onClose={() => setNoticing(false)} />}
      {tokens && <TokensDialog onClose={() => setTokens(false)} />}
      {inviting && <InviteDialog onClose={() => setInviting(false)} />}
    </header>
  );
}
