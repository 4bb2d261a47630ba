import { useState } from 'react';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { exportFormats, type PartView } from '../../../shared/protocol/http.ts';
import { freshId } from '../../../shared/spec/commands.ts';
import { addPiece, type Piece, pieceName, poseOf } from '../../../shared/spec/pieces.ts';
import { formatName } from '../../state/fileKinds.ts';
import { sizeText } from '../../state/partReport.ts';
import { usePart } from '../../state/store.ts';
import { unitNames } from '../../state/unitGuess.ts';
import { useJob } from '../job/context.ts';
import { SpecField } from '../sheet/specField.tsx';
import { BuildPoses } from './poses.tsx';
import { PartReport } from './report.tsx';

interface PartCardProps {
  readonly part: PartView;
  /** Whether it is unfolded at first; from then on only the person folds it. */
  readonly open: boolean;
  /** Shown by itself and not in the list: then a mended copy of it is shown below. */
  readonly alone?: boolean;
  readonly onShow: (part: PartView, at: Vec3) => void;
}

/** One part: its figures, its report, the pieces made from it with their build poses, and the ways to take it away. */
export function PartCard({ part, open, alone = false, onShow }: PartCardProps): React.ReactNode {
  const { session } = useJob();
  const [first] = useState(open);
  const [seen, setSeen] = useState(open);
  const [mended, setMended] = useState<PartView | null>(null);
  const pieces = usePart(session.spec, (spec) => spec.pieces);
  const made = pieces.filter((piece) => piece.mesh === part.sha256 && piece.meshUnit === part.unit);
  return (
    <details className="part" data-part={part.id} open={first} onToggle={(e) => e.currentTarget.open && setSeen(true)}>
      <summary>
        <strong>{part.name}</strong>
        <span className="quiet">
          {part.triangles.toLocaleString('en')} triangles, {sizeText(part.bounds)}
        </span>
      </summary>
      {seen && (
        <div className="part-body">
          <p className="quiet">
            {formatName(part.format)},{' '}
            {part.unitStated ? 'the file states its unit' : `read in ${unitNames[part.unit]}`}
          </p>
          <PartReport part={part} onShow={onShow} onMended={setMended} />
          {alone && mended && <PartCard key={mended.id} part={mended} open alone onShow={onShow} />}
          <Pieces part={part} made={made} />
          <Exports part={part} made={made} />
        </div>
      )}
    </details>
  );
}

function Pieces({ part, made }: { readonly part: PartView; readonly made: readonly Piece[] }): React.ReactNode {
  const { session, canEdit } = useJob();
  const { doc } = session.specDocument;
  const add = (): void => {
    const { pieces } = session.spec.get();
    session.undo.stopCapturing();
    const id = freshId(doc, 'pieces', Math.random);
    addPiece(doc, { id, name: pieceName(part.name, pieces), file: part }, pieces);
  };
  return (
    <section>
      <h3>Pieces made from it</h3>
      {made.length === 0 && <p className="quiet">None yet. As a piece it is shown in the bay and judged.</p>}
      {made.map((piece) => (
        <div key={piece.id} className="part-piece" data-piece={piece.id}>
          <h4>{piece.name ?? piece.id}</h4>
          <div className="fields">
            <SpecField path={`pieces.${piece.id}.use`} />
            {piece.use !== 'bought' && <SpecField path={`pieces.${piece.id}.alloy`} />}
          </div>
          {piece.use !== 'bought' && <BuildPoses part={part} piece={piece} />}
        </div>
      ))}
      {canEdit && (
        <button type="button" className={made.length === 0 ? 'button button-main' : 'button'} onClick={add}>
          {made.length === 0 ? 'Use as piece' : 'Use as one more piece'}
        </button>
      )}
    </section>
  );
}

function Exports({ part, made }: { readonly part: PartView; readonly made: readonly Piece[] }): React.ReactNode {
  const { parts } = useJob();
  const posed = made.flatMap((piece) => {
    const turn = poseOf(piece);
    return turn ? [{ piece, turn }] : [];
  });
  return (
    <section>
      <h3>Take it away</h3>
      <p className="part-exports">
        {exportFormats.map((format) => (
          <a key={format} className="button" href={parts.address(part, format)} download>
            {format.toUpperCase()}
          </a>
        ))}
      </p>
      {posed.map(({ piece, turn }) => (
        <p key={piece.id} className="part-exports">
          <span>{piece.name ?? piece.id} as it stands on the plate:</span>
          {(['stl', '3mf'] as const).map((format) => (
            <a key={format} className="button" href={parts.address(part, format, turn)} download>
              {format.toUpperCase()}
            </a>
          ))}
        </p>
      ))}
      <p className="quiet">Nothing is repaired on the way: what comes out is what was brought.</p>
    </section>
  );
}
