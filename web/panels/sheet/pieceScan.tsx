import { setField } from '../../../shared/spec/commands.ts';
import { setScanBox, setScanOf } from '../../../shared/spec/scanOf.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { Pick } from './pick.tsx';
import { ScanFit } from './scanFit.tsx';

/** Which scan a printed piece is judged by, and which piece it is compared with, by name: nobody types a content hash. */
export function PieceScan({ id }: { readonly id: string }): React.ReactNode {
  const { session, scans } = useJob();
  const list = useStore(scans.list);
  const row = usePart(session.spec, (spec) => spec.printedPieces.find((one) => one.id === id));
  const pieces = usePart(session.spec, (spec) => spec.pieces);
  if (!row) return null;
  const { doc } = session.specDocument;
  const scan = list.find((one) => one.sha256 === row.scan && one.unit === row.scanUnit);
  const names = pieces.flatMap(({ name }) => (name === undefined ? [] : [name]));
  const lost = row.piece !== undefined && !names.includes(row.piece);
  return (
    <>
      <Pick
        id={`piece-scan-${id}`}
        label="Scan of the piece"
        value={scan?.id ?? ''}
        none={row.scan === undefined ? 'none: its report is typed' : 'not uploaded here'}
        options={list.map((one) => ({ value: one.id, label: `${one.name}, ${one.unit}` }))}
        problem={row.scan !== undefined && !scan ? 'The scan it names has not been uploaded to this job.' : ''}
        onPick={(value) => {
          session.undo.stopCapturing();
          setScanOf(doc, `printedPieces.${id}`, list.find((one) => one.id === value) ?? null);
        }}
      />
      <Pick
        id={`piece-of-${id}`}
        label="Compared with"
        value={lost ? '' : (row.piece ?? '')}
        none={names.length === 0 ? 'no piece yet' : 'choose'}
        options={names.map((name) => ({ value: name, label: name }))}
        problem={lost ? `There is no piece "${row.piece}" any more.` : ''}
        onPick={(value) => {
          session.undo.stopCapturing();
          setField(doc, `printedPieces.${id}.piece`, value === '' ? null : value);
        }}
      />
    </>
  );
}

/** Which scan a bay component is in, and which part of it: several components may share one scan of the whole bay. */
export function ComponentScan({ id }: { readonly id: string }): React.ReactNode {
  const { session, scans, aim, canEdit } = useJob();
  const list = useStore(scans.list);
  const aimed = useStore(aim);
  const row = usePart(session.spec, (spec) => spec.components.find((one) => one.id === id));
  if (!row) return null;
  const { doc } = session.specDocument;
  const scan = scans.find(row);
  const on = aimed?.kind === 'box' && aimed.row === id;
  const cut = [row.fromX, row.fromY, row.fromZ, row.toX, row.toY, row.toZ].some((side) => side !== undefined);
  return (
    <>
      <Pick
        id={`scan-of-${id}`}
        label="Scan"
        value={scan?.id ?? ''}
        none={row.scan === undefined ? 'none yet' : 'not uploaded here'}
        options={list.map((one) => ({ value: one.id, label: `${one.name}, ${one.unit}` }))}
        problem={row.scan !== undefined && !scan ? 'The scan it names has not been uploaded to this job.' : ''}
        onPick={(value) => {
          session.undo.stopCapturing();
          setScanOf(doc, `components.${id}`, list.find((one) => one.id === value) ?? null);
        }}
      />
      {canEdit && scan && (
        <button
          type="button"
          className="button"
          aria-pressed={on}
          onClick={() => aim.set(on ? null : { kind: 'box', row: id })}
        >
          {on ? 'Leave it' : 'Pick its box on the scan'}
        </button>
      )}
      {canEdit && cut && (
        <button
          type="button"
          className="button"
          onClick={() => {
            session.undo.stopCapturing();
            setScanBox(doc, id, null);
          }}
        >
          Take the whole scan
        </button>
      )}
      <ScanFit id={id} />
    </>
  );
}
