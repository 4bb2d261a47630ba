import { useState } from 'react';
import { z } from 'zod';
import {
  type Concession,
  type ConcessionView,
  concessionWords,
  type LapseReason,
} from '../../../shared/gates/concession.ts';
import { may } from '../../../shared/protocol/roles.ts';
import type { Verdict } from '../../../shared/rules/verdict.ts';
import type { GateId } from '../../../shared/spec/gateId.ts';
import { useStore } from '../../state/store.ts';
import { call } from '../../sync/api.ts';
import { Mark } from '../../ui/marks.tsx';
import { useJob } from '../job/context.ts';
import { timeId } from '../punch/punch.tsx';

/** Answer of a decision: its row of the record. */
const row = z.object({ seq: z.number().int() });

const lapseWords: Readonly<Record<LapseReason, string>> = {
  ended: 'ended',
  replaced: 'replaced by a later one',
  expired: 'has run out',
  worse: 'lapsed: what is measured is worse than was accepted',
  'limit-moved': 'lapsed: the limit is another one',
  unneeded: 'no longer needed: end it',
};

/** Number, from 1, of the last concession of a list that is meant: what people call it by. 0 when there is none. */
export function numberOf(conceded: readonly ConcessionView[], meant: (view: ConcessionView) => boolean): number {
  return conceded.findLastIndex(meant) + 1;
}

/** Where a concession stands, in words. */
export function standingWords({ standing }: ConcessionView): string {
  if (standing.standing === 'in-force') return 'in force';
  return standing.standing === 'waits' ? 'waits: the value is not known now' : lapseWords[standing.because];
}

/** Sends a decision once at a time and keeps what went wrong. */
function useDecision(): {
  readonly busy: boolean;
  readonly error: string | null;
  send(path: string, body: unknown): Promise<boolean>;
} {
  const { session } = useJob();
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<string | null>(null);
  const send = async (path: string, body: unknown): Promise<boolean> => {
    setBusy(true);
    setError(null);
    try {
      await call('POST', `/api/projects/${session.project.id}/concessions${path}`, { body, schema: row });
      return true;
    } catch (e) {
      setError(e instanceof Error ? e.message : String(e));
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { busy, error, send };
}

/** The last moment of a day here, as the record keeps times; null for no day. */
function endOfDay(day: FormDataEntryValue | null): string | null {
  if (typeof day !== 'string' || day === '') return null;
  return new Date(`${day}T23:59:59.999`).toISOString();
}

function ReasonAndPassword({ label }: { readonly label: string }): React.ReactNode {
  return (
    <>
      <label>
        {label}
        <input name="reason" className="input-text" required minLength={10} maxLength={200} autoComplete="off" />
      </label>
      <label>
        Your password again
        <input name="password" type="password" autoComplete="current-password" required />
      </label>
    </>
  );
}

function Problem({ text }: { readonly text: string | null }): React.ReactNode {
  if (text === null) return null;
  return (
    <p className="problem" role="alert">
      {text}
    </p>
  );
}

/** On a value outside its limit: who may, accepts exactly this value; everybody sees when it is accepted. */
export function AcceptOutside({ verdict }: { readonly verdict: Verdict }): React.ReactNode {
  const { session } = useJob();
  const { conceded } = useStore(session.feed.state);
  const [open, setOpen] = useState(false);
  const { busy, error, send } = useDecision();
  const [id, setId] = useState(timeId);
  const there = conceded.findLast((view) => view.concession.verdict === verdict.key);
  const inForce = there?.standing.standing === 'in-force';
  if (there && inForce) return <ConcessionRow view={there} />;
  if (verdict.status !== 'fail' || verdict.severity !== 'block') return null;
  if (!may(session.project.roles, 'concede'))
    return <p className="quiet">Only a lead can accept a value outside its limit.</p>;
  const grant = async (form: HTMLFormElement): Promise<void> => {
    const data = new FormData(form);
    const wish = { id, verdict: verdict.key, seen: verdict.digest, reason: data.get('reason') };
    const body = { ...wish, expires: endOfDay(data.get('until')), password: data.get('password') };
    if (!(await send('', body))) return;
    setId(timeId());
    setOpen(false);
  };
  if (!open)
    return (
      <button type="button" className="button" onClick={() => setOpen(true)}>
        Accept out of limits
      </button>
    );
  return (
    <form
      className="sign concession-form"
      aria-label="Accept out of limits"
      onSubmit={(e) => {
        e.preventDefault();
        void grant(e.currentTarget);
      }}
    >
      <p>
        A concession covers this value and anything nearer to the limit. It lapses by itself when the value gets worse,
        when the limit changes, or at its end. It stands in the record for ever.
      </p>
      <div className="sign-rows">
        <ReasonAndPassword label="Why it may be used all the same" />
        <label>
          Until the end of (empty: no end)
          <input name="until" type="date" />
        </label>
        <button type="submit" className="button button-main" disabled={busy}>
          Accept this value
        </button>
        <button type="button" className="button" onClick={() => setOpen(false)}>
          Do not accept
        </button>
      </div>
      <Problem text={error} />
    </form>
  );
}

function EndForm({ concession }: { readonly concession: Concession }): React.ReactNode {
  const [open, setOpen] = useState(false);
  const { busy, error, send } = useDecision();
  if (!open)
    return (
      <button type="button" className="button" onClick={() => setOpen(true)}>
        End it
      </button>
    );
  return (
    <form
      className="concession-form"
      aria-label="End the concession"
      onSubmit={(e) => {
        e.preventDefault();
        const data = new FormData(e.currentTarget);
        const body = { reason: data.get('reason'), password: data.get('password') };
        void send(`/${concession.id}/end`, body);
      }}
    >
      <div className="sign-rows">
        <ReasonAndPassword label="Why it ends" />
        <button type="submit" className="button button-main" disabled={busy}>
          End the concession
        </button>
      </div>
      <Problem text={error} />
    </form>
  );
}

const dayOf = (iso: string): string => new Date(iso).toLocaleString();

function ConcessionRow({ view }: { readonly view: ConcessionView }): React.ReactNode {
  const { session } = useJob();
  const { conceded } = useStore(session.feed.state);
  const { concession, standing } = view;
  const n = numberOf(conceded, (one) => one.concession.id === concession.id);
  const { by, at, reason, expires, ended } = concession;
  const state = standing.standing === 'lapsed' ? 'lapsed' : standing.standing;
  return (
    <div className="concession" data-concession={concession.id} data-standing={state}>
      <p>
        <Mark kind={state === 'in-force' ? 'conceded' : 'stale'} /> <strong>Concession {n}</strong>,{' '}
        {standingWords(view)}
      </p>
      <p>{concessionWords(concession)}</p>
      <p className="quiet">
        {by.name}, {dayOf(at)}: {reason}
        {expires !== null && `; until ${dayOf(expires)}`}
        {ended && `. Ended by ${ended.by.name}, ${dayOf(ended.at)}: ${ended.reason}`}
      </p>
      {!ended && may(session.project.roles, 'concede') && <EndForm concession={concession} />}
    </div>
  );
}

/** All concessions ever granted at a gate, the newest first. */
export function GateConcessions({ gate }: { readonly gate: GateId }): React.ReactNode {
  const { session } = useJob();
  const { conceded } = useStore(session.feed.state);
  const own = conceded.filter(({ concession }) => concession.gate === gate).reverse();
  if (own.length === 0) return null;
  return (
    <section aria-label="Concessions" className="concessions">
      <h3>Accepted out of limits</h3>
      {own.map((view) => (
        <ConcessionRow key={view.concession.id} view={view} />
      ))}
    </section>
  );
}
