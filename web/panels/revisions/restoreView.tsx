import { useState } from 'react';
import { factTitle } from '../../../shared/gates/factWords.ts';
import type { RevisionView } from '../../../shared/protocol/revisions.ts';
import { compareSpecs } from '../../../shared/spec/compare.ts';
import { readSpec, SPEC_ROOT } from '../../../shared/spec/reader.ts';
import { planRestore, restore } from '../../../shared/spec/restore.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { useFetched } from './useFetched.ts';

/** Differences that are named before the rest is counted. */
const NAMED = 12;

/** Says what putting a revision back will change, and does it as this person's own edit. */
export function RestoreView({ revision }: { readonly revision: RevisionView }): React.ReactNode {
  const { revisions } = useJob();
  const got = useFetched(revision.id, () => revisions.entries(revision.id));
  if (got.state === 'waiting') return <p role="status">Fetching revision {revision.letter}.</p>;
  if (got.state === 'problem')
    return (
      <p className="problem" role="alert">
        {got.text} Nothing was changed.
      </p>
    );
  return <Restoring revision={revision} wanted={got.value} />;
}

interface RestoringProps {
  readonly revision: RevisionView;
  readonly wanted: ReadonlyMap<string, unknown>;
}

function Restoring({ revision, wanted }: RestoringProps): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.spec);
  const [done, setDone] = useState<number | null>(null);
  const { doc } = session.specDocument;
  const plan = planRestore(doc.getMap<unknown>(SPEC_ROOT), wanted);
  const put = (): void => {
    restore(doc, plan, () => session.undo.stopCapturing());
    session.undo.stopCapturing();
    setDone(plan.steps.length);
  };
  if (done !== null)
    return (
      <p role="status" data-restored={revision.letter}>
        Revision {revision.letter} is in place, as your edit.{' '}
        {done === 1 ? 'Undo takes it back.' : `It went in ${done} steps: Undo takes them back one by one.`}
      </p>
    );
  if (plan.writes === 0)
    return (
      <p role="status">
        The sheet holds just what revision {revision.letter} {revision.name} holds. There is nothing to put back.
      </p>
    );
  return (
    <div className="restoring">
      <Differences spec={spec} wanted={wanted} />
      <ul>
        <li>It is one new edit under your name. Undo takes it back, and the history keeps what stands here now.</li>
        <li>What others edit at the same time merges with it as always. Tell them first.</li>
        <li>Ticks of checklists and remarks stay as they are: they are a person's word about what that person saw.</li>
        <li>Signatures on facts that change go stale.</li>
        {plan.strange > 0 && <li>{plan.strange} entries of it name nothing in the sheet any more and stay away.</li>}
      </ul>
      <button type="button" className="button button-main" onClick={put}>
        Put revision {revision.letter} back
      </button>
    </div>
  );
}

function Differences({
  spec,
  wanted,
}: {
  readonly spec: Parameters<typeof compareSpecs>[0];
  readonly wanted: ReadonlyMap<string, unknown>;
}): React.ReactNode {
  const to = readSpec(wanted);
  const all = compareSpecs(spec, to).flatMap(({ rows, fields }) => [
    ...rows.map(({ kind, path }) => `${factTitle(path, kind === 'removed' ? spec : to)}: ${rowActs[kind]}`),
    ...fields.map(({ path }) => factTitle(path, to)),
  ]);
  return (
    <>
      <p>
        This will change {all.length} {all.length === 1 ? 'thing' : 'things'} in the sheet:
      </p>
      <ul className="restore-list">
        {all.slice(0, NAMED).map((text, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a fixed list, and two lines may read the same.
          <li key={i}>{text}</li>
        ))}
        {all.length > NAMED && <li>and {all.length - NAMED} more</li>}
      </ul>
    </>
  );
}

const rowActs = { added: 'comes back', removed: 'goes', renamed: 'is renamed', moved: 'changes place' } as const;
