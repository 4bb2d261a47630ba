import { useState } from 'react';
import { ApiProblem } from '../../sync/api.ts';

/** One text row of an entry form. */
export interface EntryRow {
  readonly name: string;
  readonly label: string;
  readonly type?: 'text' | 'password';
  readonly autoComplete?: string;
  readonly hint?: string;
}

export interface EntryFormProps {
  readonly rows: readonly EntryRow[];
  readonly action: string;
  /** Rejects with the reason to show. */
  readonly onSubmit: (values: Readonly<Record<string, string>>) => Promise<void>;
}

/** A short form: labels above fields, the server's words on a refusal, nothing lost on an error. */
export function EntryForm({ rows, action, onSubmit }: EntryFormProps): React.ReactNode {
  const [error, setError] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const submit = async (form: HTMLFormElement): Promise<void> => {
    setBusy(true);
    setError(null);
    const data = new FormData(form);
    const values = Object.fromEntries(rows.map((r) => [r.name, String(data.get(r.name) ?? '')]));
    try {
      await onSubmit(values);
    } catch (e) {
      setError(e instanceof ApiProblem ? e.message : String(e));
    } finally {
      setBusy(false);
    }
  };
  return (
    <form
      className="entry-form"
      onSubmit={(e) => {
        e.preventDefault();
        void submit(e.currentTarget);
      }}
    >
      {rows.map((row) => (
        <label key={row.name} className="entry-row">
          <span>{row.label}</span>
          <input name={row.name} type={row.type ?? 'text'} autoComplete={row.autoComplete ?? 'off'} required />
          {row.hint && <small>{row.hint}</small>}
        </label>
      ))}
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
      <button type="submit" className="button button-main" disabled={busy}>
        {action}
      </button>
    </form>
  );
}
