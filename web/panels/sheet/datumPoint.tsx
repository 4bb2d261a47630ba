import { removeElement } from '../../../shared/spec/commands.ts';
import { formatSi } from '../../../shared/units/format.ts';
import { fitOfDatums, residualOf, suspectOf, unfinishedDatums } from '../../state/placing.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

/** What the fit leaves at a datum point, beside its name. */
export function DatumResidual({ id }: { readonly id: string }): React.ReactNode {
  const { session } = useJob();
  const left = usePart(session.spec, (spec) => residualOf(spec, id));
  return <span className="quiet"> {left === null ? 'no fit yet' : `${formatSi('length', left)} left`}</span>;
}

/** Picks the place of a datum point or of a point on a port or stud, on the scan itself. */
export function ScanPick({
  id,
  kind,
}: {
  readonly id: string;
  readonly kind: 'datum' | 'port' | 'stud';
}): React.ReactNode {
  const { aim, canEdit, session, scans } = useJob();
  const aimed = useStore(aim);
  useStore(scans.list);
  const scanned = usePart(session.spec, (spec) => spec.components.some((one) => scans.find(one) !== null));
  if (!canEdit) return null;
  const on = aimed?.kind === kind && aimed.row === id;
  return (
    <button
      type="button"
      className="button"
      aria-pressed={on}
      disabled={!scanned}
      title={scanned ? 'The next point of the scan you point at' : 'There is no scan to point at yet'}
      onClick={() => aim.set(on ? null : { kind, row: id })}
    >
      {on ? 'Leave it' : 'Pick on the scan'}
    </button>
  );
}

/** The fit of all datum points together: turn and shift, never a scale. */
export function DatumFit(): React.ReactNode {
  const { session } = useJob();
  const fit = usePart(session.spec, fitOfDatums);
  const unfinished = usePart(session.spec, (spec) => unfinishedDatums(spec).join(', '));
  if (unfinished !== '')
    return (
      <p className="problem">
        No fit yet: a datum point needs three numbers in the scan and three on the car. Unfinished: {unfinished}.
      </p>
    );
  if (!fit)
    return <p className="quiet">At least three points that are not in line place the scan; five show a bad one.</p>;
  const rest = `${formatSi('length', fit.residual)} left at 95 % of ${fit.count} points, ${formatSi('length', fit.worstResidual)} at ${fit.worst}`;
  return (
    <>
      <p className="quiet">
        Best turn and shift: {rest}; it moves the scan by up to {formatSi('length', fit.shift)}.
      </p>
      <BadPoint />
    </>
  );
}

/** A point that fits badly to all others, and a way to do without it; taking it back is one undo. */
function BadPoint(): React.ReactNode {
  const { session, canEdit } = useJob();
  const suspect = usePart(session.spec, suspectOf);
  if (!suspect) return null;
  const { id, name, without } = suspect;
  const leaveOut = (): void => {
    session.undo.stopCapturing();
    removeElement(session.specDocument.doc, `datums.${id}`);
  };
  return (
    <p className="problem" data-suspect={id}>
      {name} looks wrong: without it at most {formatSi('length', without)} is left at the others. Pick it again, or do
      without it.{' '}
      {canEdit && (
        <button type="button" className="button" onClick={leaveOut}>
          Remove {name}
        </button>
      )}
    </p>
  );
}
