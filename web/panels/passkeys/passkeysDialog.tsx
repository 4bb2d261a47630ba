import { useCallback, useEffect, useState } from 'react';
import type { PasskeyView } from '../../../shared/protocol/passkeys.ts';
import { passkeyTrouble } from '../../../shared/record/assertion.ts';
import { ownPasskeys, registerPasskey, removePasskey } from '../../sync/passkeys.ts';
import { Dialog } from '../../ui/dialog.tsx';

const words = (error: unknown): string => (error instanceof Error ? error.message : String(error));
const day = (at: string): string => new Date(at).toLocaleDateString();

function Passkey({
  passkey,
  onRemove,
}: {
  readonly passkey: PasskeyView;
  readonly onRemove: () => void;
}): React.ReactNode {
  const { name, rpId, createdAt, lastUsedAt } = passkey;
  return (
    <li className="passkey" data-passkey={passkey.id}>
      <span>
        <strong>{name}</strong>, for {rpId}
        <span className="quiet">
          {' '}
          since {day(createdAt)}, {lastUsedAt ? `last used ${day(lastUsedAt)}` : 'not used yet'}
        </span>
      </span>
      <button type="button" className="button" onClick={onRemove} aria-label={`Remove passkey ${name}`}>
        Remove
      </button>
    </li>
  );
}

function NewPasskey({ act }: { readonly act: (work: () => Promise<void>) => Promise<boolean> }): React.ReactNode {
  const trouble = passkeyTrouble(window.location.origin);
  if (trouble !== null) return <p className="quiet">None can be registered here: {trouble}.</p>;
  const register = async (form: HTMLFormElement): Promise<void> => {
    const data = new FormData(form);
    const done = await act(() => registerPasskey(String(data.get('name')), String(data.get('password'))));
    if (done) form.reset();
  };
  return (
    <form
      className="sign"
      onSubmit={(e) => {
        e.preventDefault();
        void register(e.currentTarget);
      }}
    >
      <h3>Register this device</h3>
      <div className="sign-rows">
        <label>
          Name of the device
          <input name="name" required maxLength={60} placeholder="shop phone" autoComplete="off" />
        </label>
        <label>
          Your password again
          <input name="password" type="password" autoComplete="current-password" required />
        </label>
        <button type="submit" className="button button-main">
          Register
        </button>
      </div>
    </form>
  );
}

/** One's own passkeys: keys a device keeps, to sign gates by finger, face or code in place of the password. */
export function PasskeysDialog({ onClose }: { readonly onClose: () => void }): React.ReactNode {
  const [list, setList] = useState<readonly PasskeyView[] | null>(null);
  const [error, setError] = useState<string | null>(null);
  const load = useCallback(() => ownPasskeys().then(setList, (e: unknown) => setError(words(e))), []);
  useEffect(() => void load(), [load]);
  const act = async (work: () => Promise<void>): Promise<boolean> => {
    setError(null);
    try {
      await work();
      return true;
    } catch (e) {
      setError(words(e));
      return false;
    } finally {
      await load();
    }
  };
  return (
    <Dialog title="Passkeys" onClose={onClose}>
      <p>
        With a passkey you sign a gate by finger, face or the code of your device. What it signed stands in the record,
        where anybody can verify it without this server.
      </p>
      {list?.length === 0 && <p className="quiet">You have none yet: you sign with your password.</p>}
      <ul className="passkeys">
        {list?.map((one) => (
          <Passkey key={one.id} passkey={one} onRemove={() => void act(() => removePasskey(one.id))} />
        ))}
      </ul>
      <NewPasskey act={act} />
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
    </Dialog>
  );
}
