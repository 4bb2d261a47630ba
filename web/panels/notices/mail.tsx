import { useEffect, useState } from 'react';
import { type MailState, mailStateSchema } from '../../../shared/protocol/notices.ts';
import { call, nothing } from '../../sync/api.ts';
import { useWork } from './useWork.ts';

const at = '/api/account/mail';
const forget = async (): Promise<void> => void (await call('DELETE', at, { schema: nothing }));

/** One's own mail address: given, confirmed by a code, taken out again. */
export function MailSection(): React.ReactNode {
  const [state, setState] = useState<MailState | null>(null);
  const { problem, busy, work } = useWork();
  // biome-ignore lint/correctness/useExhaustiveDependencies: fetched once, when it opens.
  useEffect(() => {
    void work(async () => setState(await call('GET', at, { schema: mailStateSchema })));
  }, []);
  const send = (address: string) =>
    work(async () => setState(await call('PUT', at, { body: { address }, schema: mailStateSchema })));
  const confirm = (code: string) =>
    work(async () => setState(await call('POST', `${at}/confirm`, { body: { code }, schema: mailStateSchema })));
  return (
    <section className="notice-ways" aria-label="Mail">
      <h3>Mail to you</h3>
      {state && !state.possible && (
        <p className="quiet">This server sends no mail: whoever runs it has not set SMTP_URL and MAIL_FROM.</p>
      )}
      {state?.possible && <MailForms state={state} busy={busy} send={send} confirm={confirm} />}
      {state?.address && (
        <button
          type="button"
          className="button"
          disabled={busy}
          onClick={() => void work(() => forget().then(() => setState({ ...state, address: null, confirmed: false })))}
        >
          Take {state.address} out
        </button>
      )}
      {problem && (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
    </section>
  );
}

interface Forms {
  readonly state: MailState;
  readonly busy: boolean;
  readonly send: (address: string) => Promise<boolean>;
  readonly confirm: (code: string) => Promise<boolean>;
}

function MailForms({ state, busy, send, confirm }: Forms): React.ReactNode {
  if (state.confirmed)
    return <p>Notices of all your jobs go to {state.address}, at most one mail in ten minutes for each job.</p>;
  return (
    <>
      <form
        className="notice-form"
        onSubmit={(e) => {
          e.preventDefault();
          void send(String(new FormData(e.currentTarget).get('address')));
        }}
      >
        <label>
          Your mail address
          <input name="address" type="email" required maxLength={254} defaultValue={state.address ?? ''} />
        </label>
        <button type="submit" className="button" disabled={busy}>
          {state.address ? 'Send another code' : 'Send a code'}
        </button>
      </form>
      {state.address && (
        <form
          className="notice-form"
          onSubmit={(e) => {
            e.preventDefault();
            void confirm(String(new FormData(e.currentTarget).get('code')));
          }}
        >
          <label>
            Code from the mail
            <input name="code" required maxLength={40} autoComplete="one-time-code" />
          </label>
          <button type="submit" className="button button-main" disabled={busy}>
            Confirm
          </button>
        </form>
      )}
    </>
  );
}
