import { useState } from 'react';
import { revisionLimits } from '../../../shared/protocol/revisions.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { problemWords } from './when.ts';

/** Keeps the state at the shop as a revision. */
export function KeepForm(): React.ReactNode {
  const { revisions, session } = useJob();
  const { unconfirmed } = useStore(session.specDocument.keep);
  const [name, setName] = useState('');
  const [note, setNote] = useState('');
  const [said, setSaid] = useState<{ readonly text: string; readonly bad: boolean } | null>(null);
  const [busy, setBusy] = useState(false);
  const keep = async (): Promise<void> => {
    setBusy(true);
    setSaid(null);
    try {
      const made = await revisions.keep(name, note);
      setSaid({ text: `Kept as revision ${made.letter}.`, bad: false });
      setName('');
      setNote('');
      // The feed brings it too; without a link it would not.
      revisions.refresh();
    } catch (error) {
      setSaid({ text: problemWords(error), bad: true });
    }
    setBusy(false);
  };
  return (
    <form
      className="keep-form"
      aria-label="Keep this state as a revision"
      onSubmit={(e) => {
        e.preventDefault();
        void keep();
      }}
    >
      <h3>Keep this state as a revision</h3>
      <label className="entry-row">
        <span>Name</span>
        <input value={name} maxLength={revisionLimits.name} required onChange={(e) => setName(e.target.value)} />
      </label>
      <label className="entry-row">
        <span>Note</span>
        <textarea value={note} maxLength={revisionLimits.note} rows={2} onChange={(e) => setNote(e.target.value)} />
      </label>
      {unconfirmed > 0 && (
        <p>
          {unconfirmed} of your edits are not at the shop yet. A revision holds what is there: wait until the strip
          above says they are kept.
        </p>
      )}
      <button type="submit" className="button button-main" disabled={busy || unconfirmed > 0}>
        Keep as revision
      </button>
      {said && (
        <p className={said.bad ? 'problem' : undefined} role={said.bad ? 'alert' : 'status'}>
          {said.text}
        </p>
      )}
    </form>
  );
}
