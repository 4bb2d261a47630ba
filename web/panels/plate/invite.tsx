import { useState } from 'react';
import { type Role, roles } from '../../../shared/gates/roles.ts';
import { madeInviteSchema } from '../../../shared/protocol/http.ts';
import { call } from '../../sync/api.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { Members } from './members.tsx';

/** Makes a link that lets one person join in one role. */
export function InviteDialog({ onClose }: { readonly onClose: () => void }): React.ReactNode {
  const { session } = useJob();
  const [role, setRole] = useState<Role>('designer');
  const [link, setLink] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);
  const make = async (): Promise<void> => {
    setError(null);
    try {
      const made = await call('POST', `/api/projects/${session.project.id}/invites`, {
        body: { role },
        schema: madeInviteSchema,
      });
      setLink(`${location.origin}/invite/${made.token}`);
    } catch (e) {
      setError(e instanceof Error ? e.message : String(e));
    }
  };
  return (
    <Dialog title="People of this job" onClose={onClose}>
      <h3>Invite somebody</h3>
      <label className="entry-row">
        <span>Role</span>
        <select value={role} onChange={(e) => setRole(roles.find((r) => r === e.target.value) ?? 'reviewer')}>
          {roles.map((r) => (
            <option key={r}>{r}</option>
          ))}
        </select>
      </label>
      <button type="button" className="button button-main" onClick={() => void make()}>
        Make a link
      </button>
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
      {link && (
        <div className="invite-link">
          <p>Good for one person and 72 hours. Send it the way you trust.</p>
          <input readOnly value={link} aria-label="Invite link" onFocus={(e) => e.target.select()} />
          <button type="button" className="button" onClick={() => void navigator.clipboard?.writeText(link)}>
            Copy
          </button>
        </div>
      )}
      <Members />
    </Dialog>
  );
}
