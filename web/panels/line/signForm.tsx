import { useEffect, useState } from 'react';
import type { Gate } from '../../../shared/gates/gates.ts';
import type { GateView } from '../../../shared/gates/readiness.ts';
import type { Role } from '../../../shared/gates/roles.ts';
import { type OfferView, offerSchema, signedSchema, signingMeanings } from '../../../shared/protocol/signing.ts';
import { passkeyTrouble } from '../../../shared/record/assertion.ts';
import { RULE_SET } from '../../../shared/rules/registry.ts';
import { useStore } from '../../state/store.ts';
import { call } from '../../sync/api.ts';
import { ownPasskeys, passkeySigns } from '../../sync/passkeys.ts';
import { initials } from '../../ui/fieldInput.tsx';
import { useJob } from '../job/context.ts';
import { statementOf, WhatIsSigned } from './whatIsSigned.tsx';

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

const words = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Why a passkey cannot be used here, null when it can, undefined while that is not known. */
function useNoPasskey(): string | null | undefined {
  const [none, setNone] = useState<string | null | undefined>(undefined);
  useEffect(() => {
    let wanted = true;
    const show = (why: string | null): void => {
      if (wanted) setNone(why);
    };
    const trouble = passkeyTrouble(window.location.origin);
    if (trouble !== null) show(`${trouble}.`);
    else
      ownPasskeys().then(
        (list) => {
          const here = list.some(({ rpId }) => rpId === window.location.hostname);
          show(here ? null : 'you have none for this address; register one under More, Passkeys.');
        },
        (error: unknown) => show(words(error)),
      );
    return () => {
      wanted = false;
    };
  }, []);
  return none;
}

interface WishProps {
  readonly due: readonly Role[];
  readonly name: string;
  readonly busy: boolean;
  readonly onRead: (data: FormData) => void;
}

/** First step: in which role, as what, and how it will be confirmed. */
function WishForm({ due, name, busy, onRead }: WishProps): React.ReactNode {
  const none = useNoPasskey();
  return (
    <form
      className="sign"
      onSubmit={(e) => {
        e.preventDefault();
        onRead(new FormData(e.currentTarget));
      }}
    >
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
          Your initials
          <input name="initials" required maxLength={8} size={6} autoComplete="off" placeholder={initials(name)} />
        </label>
        <label>
          Confirm with
          <select key={String(none)} name="confirmedBy" defaultValue={none === null ? 'passkey' : 'password'}>
            <option value="password">password</option>
            {none === null && <option value="passkey">passkey</option>}
          </select>
        </label>
        <button type="submit" className="button button-main" disabled={busy}>
          Read what I sign
        </button>
      </div>
      {typeof none === 'string' && <p className="quiet">No passkey: {none}</p>}
    </form>
  );
}

interface ConfirmProps {
  readonly offer: OfferView;
  readonly busy: boolean;
  readonly onSign: (password: string | null) => void;
  readonly onBack: () => void;
}

/** Second step: what will be signed in words, and the signature itself. */
function ConfirmForm({ offer, busy, onSign, onBack }: ConfirmProps): React.ReactNode {
  const statement = statementOf(offer.statement);
  if (!statement) return <p className="problem">This page is older than the server: reload it.</p>;
  const byPasskey = statement.signer.confirmedBy === 'passkey';
  return (
    <form
      className="sign"
      onSubmit={(e) => {
        e.preventDefault();
        const password = new FormData(e.currentTarget).get('password');
        onSign(typeof password === 'string' ? password : null);
      }}
    >
      <WhatIsSigned statement={statement} />
      <div className="sign-rows">
        {!byPasskey && (
          <label>
            Your password again
            <input name="password" type="password" autoComplete="current-password" required />
          </label>
        )}
        <button type="submit" className="button button-main" disabled={busy}>
          {byPasskey ? 'Sign with passkey' : 'Sign'}
        </button>
        <button type="button" className="button" onClick={onBack}>
          Back
        </button>
      </div>
      <p className="quiet">
        Waits for your signature until {new Date(offer.until).toLocaleTimeString()}; nothing is signed before.
      </p>
      <p className="digest">statement {offer.sha256}</p>
    </form>
  );
}

/** Reading, then signing. What was read is let go as soon as the facts move. */
function useSigning(gate: Gate, view: GateView) {
  const { session } = useJob();
  const [offer, setOffer] = useState<OfferView | null>(null);
  const [error, setError] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const base = `/api/projects/${session.project.id}/gates/${gate.id}`;
  const read = offer && statementOf(offer.statement);
  const moved = read !== null && read.digest !== view.digest;
  useEffect(() => {
    if (!moved) return;
    setOffer(null);
    setError('The facts have moved since you read them. Read again what you sign.');
  }, [moved]);
  const attempt = async (act: () => Promise<void>): Promise<void> => {
    setBusy(true);
    setError(null);
    await act().catch((e: unknown) => setError(words(e)));
    setBusy(false);
  };
  const ask = (data: FormData): Promise<void> =>
    attempt(async () => {
      const body = { ...Object.fromEntries(data), digest: view.digest, ruleSet: RULE_SET };
      setOffer(await call('POST', `${base}/challenge`, { body, schema: offerSchema }));
    });
  const sign = (password: string | null): Promise<void> =>
    attempt(async () => {
      if (!offer) return;
      const shown = password === null ? { assertion: await passkeySigns(offer) } : { password };
      await call('POST', `${base}/signatures`, { body: { nonce: offer.nonce, ...shown }, schema: signedSchema });
      setOffer(null);
    });
  return { offer, error, busy, ask, sign, back: () => setOffer(null) };
}

/** Signing: role, meaning and initials, then what will be signed, then the password or a passkey. It covers exactly the facts shown now. */
export function SignForm({ gate, view }: { readonly gate: Gate; readonly view: GateView }): React.ReactNode {
  const { session } = useJob();
  const feed = useStore(session.feed.state);
  const keep = useStore(session.specDocument.keep);
  const { offer, error, busy, ask, sign, back } = useSigning(gate, view);
  const mine = view.signs.filter((role) => session.project.roles.includes(role));
  const current = view.state.state === 'not-in-force' ? [] : view.state.current;
  const due = mine.filter((role) => !current.some((s) => s.role === role));
  const wait = waitReason(view, {
    connected: feed.connected,
    unconfirmed: keep.unconfirmed,
    role: due[0],
    signs: mine.length > 0,
  });
  if (wait) return <p className="quiet sign-wait">{wait}</p>;
  const name = session.project.members.find((m) => m.account.id === session.me)?.account.name ?? '';
  return (
    <section className="signing">
      <h3>Sign these facts</h3>
      {offer ? (
        <ConfirmForm offer={offer} busy={busy} onSign={(password) => void sign(password)} onBack={back} />
      ) : (
        <WishForm due={due} name={name} busy={busy} onRead={(data) => void ask(data)} />
      )}
      {!offer && <p className="digest">facts {view.digest}</p>}
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
    </section>
  );
}
