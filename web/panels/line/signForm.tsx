import { useState } from 'react';
import type { Gate } from '../../../shared/gates/gates.ts';
import type { GateView } from '../../../shared/gates/readiness.ts';
import type { Role } from '../../../shared/gates/roles.ts';
import { signedSchema, signingMeanings } from '../../../shared/protocol/signing.ts';
import { RULE_SET } from '../../../shared/rules/registry.ts';
import { useStore } from '../../state/store.ts';
import { call } from '../../sync/api.ts';
import { useJob } from '../job/context.ts';

/** Why signing has to wait, or null. */
function waitReason(
  view: GateView,
  options: { connected: boolean; unconfirmed: number; role: Role | undefined; signs: boolean },
): string | null {
  if (!options.signs) return 'Your roles do not sign this gate.';
  if (!options.role) return 'Signed in your role; nothing more to sign for these facts.';
  if (!options.connected) return 'Signing needs the link to the server: offline the facts cannot be held still.';
  if (options.unconfirmed > 0) return 'Your last edits are not yet kept at the shop.';
  if (view.state.state === 'open' || (view.state.state === 'stale' && view.state.blockers.length > 0))
    return 'The points above still hold this gate.';
  if (view.state.state === 'signed') return 'Nothing to sign.';
  return null;
}

/** Signing: role, meaning, and the password again. It covers exactly the facts shown now. */
export function SignForm({ gate, view }: { readonly gate: Gate; readonly view: GateView }): React.ReactNode {
  const { session } = useJob();
  const feed = useStore(session.feed.state);
  const keep = useStore(session.specDocument.keep);
  const mine = view.signs.filter((role) => session.project.roles.includes(role));
  const current = view.state.state === 'not-in-force' ? [] : view.state.current;
  const due = mine.filter((role) => !current.some((s) => s.role === role));
  const [error, setError] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const wait = waitReason(view, {
    connected: feed.connected,
    unconfirmed: keep.unconfirmed,
    role: due[0],
    signs: mine.length > 0,
  });
  const sign = async (form: HTMLFormElement): Promise<void> => {
    setBusy(true);
    setError(null);
    const data = new FormData(form);
    const body = {
      role: data.get('role'),
      meaning: data.get('meaning'),
      password: data.get('password'),
      digest: view.digest,
      ruleSet: RULE_SET,
    };
    try {
      await call('POST', `/api/projects/${session.project.id}/gates/${gate.id}/signatures`, {
        body,
        schema: signedSchema,
      });
      form.reset();
    } catch (e) {
      setError(e instanceof Error ? e.message : String(e));
    } finally {
      setBusy(false);
    }
  };
  if (wait) return <p className="quiet sign-wait">{wait}</p>;
  return (
    <form
      className="sign"
      onSubmit={(e) => {
        e.preventDefault();
        void sign(e.currentTarget);
      }}
    >
      <h3>Sign these facts</h3>
      <div className="sign-rows">
        <label>
          As
          <select name="role">
            {due.map((role) => (
              <option key={role}>{role}</option>
            ))}
          </select>
        </label>
        <label>
          Meaning
          <select name="meaning">
            {signingMeanings.map((m) => (
              <option key={m}>{m}</option>
            ))}
          </select>
        </label>
        <label>
          Your password again
          <input name="password" type="password" autoComplete="current-password" required />
        </label>
        <button type="submit" className="button button-main" disabled={busy}>
          Sign
        </button>
      </div>
      <p className="digest">facts {view.digest}</p>
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
    </form>
  );
}
