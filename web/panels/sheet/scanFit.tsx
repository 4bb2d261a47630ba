import { useRef, useState } from 'react';
import { type ScanFit as Fit, fitProblem } from '../../../shared/protocol/scanFit.ts';
import type { BayComponent } from '../../../shared/spec/spec.ts';
import { formatSi } from '../../../shared/units/format.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { Pick } from './pick.tsx';
import { type FitStage, type ToldFit, useScanFit } from './useScanFit.ts';

/** Lays the scan of a bay component finely on that of another that it overlaps: tried first, and used when a person takes it. */
export function ScanFit({ id }: { readonly id: string }): React.ReactNode {
  const { session, scans, canEdit, canUpload } = useJob();
  useStore(scans.list);
  const components = usePart(session.spec, (spec) => spec.components);
  const row = components.find((one) => one.id === id);
  const scan = row && scans.find(row);
  const others = components.filter((one) => {
    const its = scans.find(one);
    return its && its.id !== scan?.id;
  });
  if (!canEdit || !canUpload || !row || !scan || others.length === 0) return null;
  return <Fitting row={row} others={others} />;
}

interface FittingProps {
  readonly row: BayComponent;
  readonly others: readonly BayComponent[];
}

function Fitting({ row, others }: FittingProps): React.ReactNode {
  const tryIt = useRef<HTMLButtonElement>(null);
  const [picked, setPicked] = useState('');
  const onto = others.find(({ id }) => id === picked) ?? (others.length === 1 ? others[0] : undefined);
  const { stage, measure, use, leave } = useScanFit(row, onto);
  // What was pressed goes away: the keyboard stays in the block.
  const back = (): void => tryIt.current?.focus();
  return (
    <section className="scan-fit" aria-label={`Fine fit of ${row.name ?? row.id}`}>
      <Pick
        id={`fit-onto-${row.id}`}
        label="Fine fit onto"
        value={onto?.id ?? ''}
        none="choose"
        options={others.map(({ id, name }) => ({ value: id, label: name ?? id }))}
        problem=""
        onPick={(value) => {
          setPicked(value);
          leave();
        }}
      />
      <button ref={tryIt} type="button" className="button" disabled={!onto} onClick={() => void measure()}>
        Try
      </button>
      <Says stage={stage} />
      {stage.kind === 'told' && (
        <Choice
          {...{ row, told: stage }}
          onUse={() => void use(stage).then(back)}
          onLeave={() => {
            leave();
            back();
          }}
        />
      )}
    </section>
  );
}

function Says({ stage }: { readonly stage: FitStage }): React.ReactNode {
  return (
    <>
      <div role="status">
        {stage.kind === 'measuring' && <p className="quiet">Both scans are being compared...</p>}
        {stage.kind === 'done' && <p>{stage.says}</p>}
        {stage.kind === 'told' && <Told fit={stage.fit} />}
      </div>
      {stage.kind === 'wrong' && (
        <p className="problem" role="alert">
          {stage.says}
        </p>
      )}
    </>
  );
}

interface ChoiceProps {
  readonly row: BayComponent;
  readonly told: ToldFit;
  readonly onUse: () => void;
  readonly onLeave: () => void;
}

function Choice({ row, told, onUse, onLeave }: ChoiceProps): React.ReactNode {
  const useful = fitProblem(told.fit) === null;
  const { fromX, fromY, fromZ, toX, toY, toZ } = row;
  const cut = [fromX, fromY, fromZ, toX, toY, toZ].some((side) => side !== undefined);
  return (
    <>
      {useful && (
        <p className="quiet">
          If you use it, a moved copy becomes the scan of this component. The scan as it was brought stays in the job.
          {cut && ' The box of this component stays where it is on the car.'}
        </p>
      )}
      <div className="scan-fit-acts">
        {useful && (
          <button type="button" className="button" disabled={told.busy} onClick={onUse}>
            {told.busy ? 'Making the copy...' : 'Use it'}
          </button>
        )}
        <button type="button" className="button" disabled={told.busy} onClick={onLeave}>
          Leave it
        </button>
      </div>
    </>
  );
}

/** What a fit came to, in words. */
function Told({ fit }: { readonly fit: Fit }): React.ReactNode {
  const { before, after, shift, compared, overlap } = fit;
  const problem = fitProblem(fit);
  const rows = [
    ['Before', before],
    ['After', after],
  ] as const;
  return (
    <>
      <table>
        <thead>
          <tr>
            <th scope="col">Left between both</th>
            <th scope="col">Root mean square</th>
            <th scope="col">95 % are under</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, { rms, size95 }]) => (
            <tr key={name} data-left={name.toLowerCase()}>
              <th scope="row">{name}</th>
              <td>{formatSi('length', rms)}</td>
              <td>{formatSi('length', size95)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>
        Over {compared.toLocaleString('en')} points: {Math.round(overlap * 100)} % of those looked at have the other
        scan near. It moves the scan by up to {formatSi('length', shift)}.
      </p>
      {problem !== null && <p className="problem">{problem}</p>}
    </>
  );
}
