import { setPieceFile } from '../../../shared/spec/pieces.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

/** Which of the job's parts a piece is made from, by name: nobody types a content hash. */
export function PieceFile({ id }: { readonly id: string }): React.ReactNode {
  const { session, parts, canEdit } = useJob();
  const list = useStore(parts.list);
  const piece = usePart(session.spec, (spec) => spec.pieces.find((one) => one.id === id));
  if (!piece) return null;
  const part = parts.find(piece);
  // A spec that was brought in as a file may name a part that was never uploaded here.
  const missing = piece.mesh !== undefined && !part;
  const choose = (chosen: string): void => {
    session.undo.stopCapturing();
    setPieceFile(session.specDocument.doc, id, list.find((one) => one.id === chosen) ?? null);
  };
  return (
    <div className="field">
      <label className="field-label" htmlFor={`part-${id}`}>
        Part
      </label>
      <span className="field-value">
        <select id={`part-${id}`} value={part?.id ?? ''} disabled={!canEdit} onChange={(e) => choose(e.target.value)}>
          <option value="">{missing ? 'not uploaded here' : list.length === 0 ? 'none brought yet' : 'choose'}</option>
          {list.map((one) => (
            <option key={one.id} value={one.id}>
              {one.name}
            </option>
          ))}
        </select>
      </span>
      <span className={missing ? 'field-problem' : 'field-note'}>
        {missing ? 'The part file it names has not been uploaded to this job.' : ''}
      </span>
    </div>
  );
}
