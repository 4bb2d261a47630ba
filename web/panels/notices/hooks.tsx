import { useCallback, useEffect, useState } from 'react';
import { type HookView, hookListSchema, type MadeHook, madeHookSchema } from '../../../shared/protocol/notices.ts';
import { call, nothing } from '../../sync/api.ts';
import { useJob } from '../job/context.ts';
import { useWork } from './useWork.ts';

function Hook({ hook, onEnd }: { readonly hook: HookView; readonly onEnd: () => void }): React.ReactNode {
  const { url, delivered, waiting, givenUp, lastError } = hook;
  return (
    <li data-hook={hook.id}>
      <span className="notice-words">
        <code>{url}</code>
        <span className="quiet">
          {' '}
          {delivered} came through, {waiting} to be tried again, {givenUp} given up
          {lastError ? `; last: ${lastError}` : ''}
        </span>
      </span>
      <button type="button" className="button" onClick={onEnd} aria-label={`Stop posting to ${url}`}>
        Stop
      </button>
    </li>
  );
}

/** Where notices of this job are posted to; for a lead. */
export function Hooks(): React.ReactNode {
  const { session } = useJob();
  const home = `/api/projects/${session.project.id}/hooks`;
  const [hooks, setHooks] = useState<readonly HookView[]>([]);
  const [made, setMade] = useState<MadeHook | null>(null);
  const { problem, busy, work } = useWork();
  const load = useCallback(async () => setHooks((await call('GET', home, { schema: hookListSchema })).hooks), [home]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: fetched once, when it opens.
  useEffect(() => {
    void work(load);
  }, []);
  const make = (url: string) =>
    work(async () => {
      setMade(await call('POST', home, { body: { url }, schema: madeHookSchema }));
      await load();
    });
  const end = (id: string) =>
    work(async () => {
      await call('DELETE', `${home}/${id}`, { schema: nothing });
      await load();
    });
  return (
    <section className="notice-ways" aria-label="Posts">
      <h3>Post to an address</h3>
      <p className="quiet">
        Each notice of this job is posted as JSON to https addresses you name here, signed as Standard Webhooks says.
      </p>
      <ul className="notice-hooks">
        {hooks.map((hook) => (
          <Hook key={hook.id} hook={hook} onEnd={() => void end(hook.id)} />
        ))}
      </ul>
      {made && (
        <label className="shown-once">
          Secret to verify posts to {made.url} with. It is shown this once:
          <input readOnly value={made.secret} onFocus={(e) => e.target.select()} />
        </label>
      )}
      <form
        className="notice-form"
        onSubmit={(e) => {
          e.preventDefault();
          const form = e.currentTarget;
          void make(String(new FormData(form).get('url'))).then((done) => done && form.reset());
        }}
      >
        <label>
          Address
          <input name="url" type="url" required maxLength={2000} placeholder="https://" />
        </label>
        <button type="submit" className="button" disabled={busy}>
          Add
        </button>
      </form>
      {problem && (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
    </section>
  );
}
