import { useEffect, useState } from 'react';
import type { RevisionView } from '../../../shared/protocol/revisions.ts';
import { useStore } from '../../state/store.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { ChangeList } from './changeList.tsx';
import { CompareView } from './compareView.tsx';
import { KeepForm } from './keepForm.tsx';
import { RestoreView } from './restoreView.tsx';
import { when } from './when.ts';

type View =
  | { readonly kind: 'list' }
  | { readonly kind: 'changes' }
  | { readonly kind: 'compare'; readonly before: string; readonly after: string }
  | { readonly kind: 'restore'; readonly revision: RevisionView };

function titleOf(view: View): string {
  switch (view.kind) {
    case 'list':
      return 'Revisions';
    case 'changes':
      return 'What changed';
    case 'compare':
      return 'Compare';
    case 'restore':
      return `Put revision ${view.revision.letter} back`;
  }
}

/** Named states of the job: keep one, compare two, put one back; and who changed what. */
export function RevisionsDialog({ onClose }: { readonly onClose: () => void }): React.ReactNode {
  const { revisions, canEdit } = useJob();
  const [view, setView] = useState<View>({ kind: 'list' });
  // What came while this page had no link is not told by the feed.
  useEffect(() => revisions.refresh(), [revisions]);
  return (
    <Dialog title={titleOf(view)} onClose={onClose} wide>
      {view.kind !== 'list' && (
        <button type="button" className="button back" onClick={() => setView({ kind: 'list' })}>
          Back to the revisions
        </button>
      )}
      {view.kind === 'list' && (
        <>
          <button type="button" className="button back" onClick={() => setView({ kind: 'changes' })}>
            What changed, and who changed it
          </button>
          {canEdit && <KeepForm />}
          <RevisionList onView={setView} />
        </>
      )}
      {view.kind === 'changes' && <ChangeList path={null} />}
      {view.kind === 'compare' && <CompareView before={view.before} after={view.after} />}
      {view.kind === 'restore' && <RestoreView revision={view.revision} />}
    </Dialog>
  );
}

function RevisionList({ onView }: { readonly onView: (view: View) => void }): React.ReactNode {
  const { revisions, canEdit } = useJob();
  const list = useStore(revisions.list);
  const trouble = useStore(revisions.trouble);
  if (trouble)
    return (
      <p className="problem" role="alert">
        {trouble}
      </p>
    );
  if (list === null) return <p role="status">Fetching the revisions.</p>;
  if (list.length === 0)
    return (
      <p>No revision yet. Keep one before a change that you may want to look back across, and when papers go out.</p>
    );
  return (
    <>
      <CompareForm list={list} onView={onView} />
      <ul className="revisions">
        {list.map((revision) => (
          <li key={revision.id} className="revision" data-revision={revision.letter}>
            <span className="revision-letter">{revision.letter}</span>
            <div className="revision-words">
              <strong>{revision.name}</strong>
              {revision.note && <p className="revision-note">{revision.note}</p>}
              <p className="quiet">
                {revision.by.name}, {when(revision.at)}, journal {revision.seq},{' '}
                <span className="digest">{revision.digest.slice(0, 16)}</span>
              </p>
            </div>
            <div className="revision-acts">
              <button
                type="button"
                className="button"
                onClick={() => onView({ kind: 'compare', before: revision.id, after: 'now' })}
              >
                Compare with now
              </button>
              {canEdit && (
                <button type="button" className="button" onClick={() => onView({ kind: 'restore', revision })}>
                  Put back
                </button>
              )}
              <a className="button" href={revisions.address(revision.id)} download>
                Take as file
              </a>
            </div>
          </li>
        ))}
      </ul>
    </>
  );
}

interface CompareFormProps {
  readonly list: readonly RevisionView[];
  readonly onView: (view: View) => void;
}

function CompareForm({ list, onView }: CompareFormProps): React.ReactNode {
  const [before, setBefore] = useState(list[0]?.id ?? 'now');
  const [after, setAfter] = useState('now');
  const options = [
    <option key="now" value="now">
      now
    </option>,
    ...list.map(({ id, letter, name }) => (
      <option key={id} value={id}>
        {letter} {name}
      </option>
    )),
  ];
  return (
    <form
      className="compare-form"
      aria-label="Compare two states"
      onSubmit={(e) => {
        e.preventDefault();
        onView({ kind: 'compare', before, after });
      }}
    >
      <label>
        <span>Compare</span>
        <select value={before} onChange={(e) => setBefore(e.target.value)}>
          {options}
        </select>
      </label>
      <label>
        <span>with</span>
        <select value={after} onChange={(e) => setAfter(e.target.value)}>
          {options}
        </select>
      </label>
      <button type="submit" className="button" disabled={before === after}>
        Compare
      </button>
    </form>
  );
}
