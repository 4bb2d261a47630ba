import { useCallback, useEffect, useState } from 'react';
import { may } from '../../../shared/protocol/roles.ts';
import {
  type MadeToken,
  madeTokenSchema,
  scopeOperation,
  type TokenScope,
  type TokenView,
  tokenListSchema,
  tokenScopes,
} from '../../../shared/protocol/tokens.ts';
import { call, nothing } from '../../sync/api.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { useWork } from '../notices/useWork.ts';

const scopeWords: Readonly<Record<TokenScope, string>> = {
  read: 'read the job',
  edit: 'change the spec',
  comment: 'make remarks',
  upload: 'bring scans and parts',
  export: 'take papers and files away',
};
const day = (at: string): string => new Date(at).toLocaleDateString();
const isoDay = (days: number): string => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);

function standing({ revokedAt, expiresAt, lastUsedAt }: TokenView): string {
  if (revokedAt) return `revoked ${day(revokedAt)}`;
  if (Date.parse(expiresAt) <= Date.now()) return `ran out ${day(expiresAt)}`;
  return `until ${day(expiresAt)}, ${lastUsedAt ? `last used ${day(lastUsedAt)}` : 'not used yet'}`;
}

function Token({ token, onRevoke }: { readonly token: TokenView; readonly onRevoke: () => void }): React.ReactNode {
  const { id, name, owner, scopes, revokedAt } = token;
  return (
    <li data-token={id}>
      <span className="notice-words">
        <strong>{name}</strong>, of {owner.name}: {scopes.map((scope) => scopeWords[scope]).join(', ')}
        <span className="quiet"> {standing(token)}</span>
      </span>
      {!revokedAt && (
        <button type="button" className="button" onClick={onRevoke} aria-label={`Revoke key ${name}`}>
          Revoke
        </button>
      )}
    </li>
  );
}

/** Keys with which scripts act for one in this job, over HTTP. */
export function TokensDialog({ onClose }: { readonly onClose: () => void }): React.ReactNode {
  const { session } = useJob();
  const home = `/api/projects/${session.project.id}/tokens`;
  const [tokens, setTokens] = useState<readonly TokenView[]>([]);
  const [made, setMade] = useState<MadeToken | null>(null);
  const { problem, busy, work } = useWork();
  const load = useCallback(
    async () => setTokens((await call('GET', home, { schema: tokenListSchema })).tokens),
    [home],
  );
  // biome-ignore lint/correctness/useExhaustiveDependencies: fetched once, when it opens.
  useEffect(() => {
    void work(load);
  }, []);
  const make = (wish: unknown) =>
    work(async () => {
      setMade(await call('POST', home, { body: wish, schema: madeTokenSchema }));
      await load();
    });
  const revoke = (id: string) =>
    work(async () => {
      await call('DELETE', `${home}/${id}`, { schema: nothing });
      await load();
    });
  return (
    <Dialog title="Keys for scripts" onClose={onClose}>
      <p>
        With a key a script acts for you in this job, within what the key is for and until its end. Nothing can be
        signed with one. <a href="/api/docs">What can be called</a>
      </p>
      {made && (
        <label className="shown-once">
          Key “{made.name}”. It is shown this once; keep it where your script is:
          <input readOnly value={made.token} onFocus={(e) => e.target.select()} />
        </label>
      )}
      <ul className="notice-hooks" aria-label="Keys">
        {tokens.map((token) => (
          <Token key={token.id} token={token} onRevoke={() => void revoke(token.id)} />
        ))}
      </ul>
      <NewToken busy={busy} make={make} />
      {problem && (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
    </Dialog>
  );
}

interface Making {
  readonly busy: boolean;
  readonly make: (wish: unknown) => Promise<boolean>;
}

function NewToken({ busy, make }: Making): React.ReactNode {
  const { session } = useJob();
  const { roles } = session.project;
  const submit = async (form: HTMLFormElement): Promise<void> => {
    const data = new FormData(form);
    const end = new Date(`${String(data.get('end'))}T23:59:59`);
    const wish = { name: data.get('name'), scopes: data.getAll('scope'), expiresAt: end.toISOString() };
    if (await make(wish)) form.reset();
  };
  return (
    <form
      className="notice-form"
      onSubmit={(e) => {
        e.preventDefault();
        void submit(e.currentTarget);
      }}
    >
      <h3>Make a key</h3>
      <label>
        What it is for
        <input name="name" required maxLength={60} placeholder="nightly export" autoComplete="off" />
      </label>
      <fieldset>
        <legend>It may</legend>
        {tokenScopes
          .filter((scope) => may(roles, scopeOperation[scope]))
          .map((scope) => (
            <label key={scope} className="scope">
              <input type="checkbox" name="scope" value={scope} defaultChecked={scope === 'read'} />
              {scopeWords[scope]}
            </label>
          ))}
      </fieldset>
      <label>
        Its last day
        <input name="end" type="date" required min={isoDay(0)} max={isoDay(365)} defaultValue={isoDay(90)} />
      </label>
      <button type="submit" className="button button-main" disabled={busy}>
        Make the key
      </button>
    </form>
  );
}
