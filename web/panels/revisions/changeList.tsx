import { useEffect, useState } from 'react';
import type { ChangeView } from '../../../shared/protocol/revisions.ts';
import { type ChangeGroup, changeGroups } from '../../state/changeRows.ts';
import { useJob } from '../job/context.ts';
import { problemWords, when } from './when.ts';

/** Changes of one edit that are shown before one asks for the rest. */
const SHOWN = 6;

interface ListProps {
  /** Null: of the whole job. */
  readonly path: string | null;
}

/** Who changed what, newest first; of one field or row, or of the whole job. */
export function ChangeList({ path }: ListProps): React.ReactNode {
  const { revisions } = useJob();
  const [changes, setChanges] = useState<readonly ChangeView[] | null>(null);
  const [more, setMore] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const load = async (from: string | null): Promise<void> => {
    setProblem(null);
    try {
      const page = await revisions.history(path, from);
      setChanges((before) => [...(from === null ? [] : (before ?? [])), ...page.changes]);
      setMore(page.more);
    } catch (error) {
      setProblem(problemWords(error));
    }
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: another path is another list.
  useEffect(() => {
    void load(null);
  }, [path]);
  return (
    <div className="changes">
      {changes === null && !problem && <p>Looking it up.</p>}
      {changes?.length === 0 && <p>Nobody has changed this yet.</p>}
      <ol className="change-groups">
        {changeGroups(changes ?? []).map((group) => (
          <Group key={group.key} group={group} titles={path === null || group.changes.length > 1} />
        ))}
      </ol>
      {problem && (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
      {(more !== null || problem) && (
        <button type="button" className="button" onClick={() => void load(more)}>
          {problem ? 'Try again' : 'Show older changes'}
        </button>
      )}
    </div>
  );
}

function Group({ group, titles }: { readonly group: ChangeGroup; readonly titles: boolean }): React.ReactNode {
  const [all, setAll] = useState(false);
  const shown = all ? group.changes : group.changes.slice(0, SHOWN);
  const rest = group.changes.length - shown.length;
  return (
    <li className="change-group">
      <p className="change-head">
        <strong>{group.by}</strong> <span className="quiet">{when(group.at)}</span>
      </p>
      <ul>
        {shown.map((change) => (
          <li key={change.path} data-changed={change.path}>
            {titles && <span className="change-title">{change.title}: </span>}
            <span className="change-value">{change.from}</span> to <span className="change-value">{change.to}</span>
          </li>
        ))}
      </ul>
      {rest > 0 && (
        <button type="button" className="button" onClick={() => setAll(true)}>
          and {rest} more in the same edit
        </button>
      )}
    </li>
  );
}
