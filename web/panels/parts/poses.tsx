import type { BuildPose, PartView } from '../../../shared/protocol/http.ts';
import { type Piece, poseOf, setPose } from '../../../shared/spec/pieces.ts';
import { formatNumber, formatSi } from '../../../shared/units/format.ts';
import { areaText, volumeText } from '../../state/partReport.ts';
import { useJob } from '../job/context.ts';
import { PosePicture } from './posePicture.tsx';
import { useAsked } from './useAsked.ts';

/** Turns nearer than this are the same pose, radians: what rounding leaves, far below what a plate can tell. */
const SAME = 1e-6;

interface PosesProps {
  readonly part: PartView;
  readonly piece: Piece;
}

/** Ways to stand a piece on the build plate; choosing one writes it into the spec. */
export function BuildPoses({ part, piece }: PosesProps): React.ReactNode {
  const { parts } = useJob();
  const { alloy } = piece;
  const asked = useAsked(`${part.id} ${alloy ?? ''}`, (stop) => parts.poses(part, alloy, stop));
  if (!asked) return <p className="quiet">Looking for ways to stand it on the plate.</p>;
  const reason = 'problem' in asked ? asked.problem : asked.answer.state === 'failed' ? asked.answer.reason : null;
  if (reason !== null)
    return (
      <p className="problem" role="alert">
        No build pose could be looked for: {reason}
      </p>
    );
  if (!('answer' in asked) || asked.answer.state !== 'done') return null;
  const { overhang, poses } = asked.answer.result;
  return (
    <>
      <p className="quiet">
        Build pose. Faces flatter than {formatSi('angle', overhang)} from the plate need support
        {alloy ? ` in ${alloy}` : ' (no powder chosen yet)'}. Drawn as seen from a little below the plate, faces on
        support filled.
      </p>
      <PoseTable part={part} overhang={overhang} poses={poses} piece={piece} />
    </>
  );
}

interface PoseTableProps extends PosesProps {
  readonly overhang: number;
  readonly poses: readonly BuildPose[];
}

function PoseTable({ part, overhang, poses, piece }: PoseTableProps): React.ReactNode {
  const { session, canEdit } = useJob();
  const { doc } = session.specDocument;
  const chosen = poseOf(piece);
  const known = chosen !== null && poses.some((pose) => same(pose.turn, chosen));
  const choose = ({ turn }: BuildPose): void => {
    session.undo.stopCapturing();
    setPose(doc, piece.id, turn);
  };
  return (
    <div className="wide-table">
      <table className="poses">
        <thead>
          <tr>
            <th scope="col">On the plate</th>
            <th scope="col">Chosen</th>
            <th scope="col">Height</th>
            <th scope="col">Support</th>
            <th scope="col">Faces on it</th>
            <th scope="col">Turned about X, Y, Z; deg</th>
          </tr>
        </thead>
        <tbody>
          {poses.map((pose) => (
            <tr key={pose.turn.join(' ')} data-chosen={chosen !== null && same(pose.turn, chosen)}>
              <td>
                <PosePicture part={part} turn={pose.turn} overhang={overhang} />
              </td>
              <td>
                {chosen !== null && same(pose.turn, chosen) ? (
                  <strong>stands so</strong>
                ) : (
                  canEdit && (
                    <button type="button" className="button" onClick={() => choose(pose)}>
                      Stand it so
                    </button>
                  )
                )}
              </td>
              <td data-label="Height">{formatSi('length', pose.height)}</td>
              <td data-label="Support">{volumeText(pose.supportToPart)}</td>
              <td data-label="Faces">{areaText(pose.downskinArea)}</td>
              <td data-label="Turned, deg">{turnText(pose.turn)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {chosen && !known && <p className="quiet">It stands in a pose of its own, turned {turnText(chosen)} deg.</p>}
    </div>
  );
}

const same = (a: readonly number[], b: readonly number[]): boolean =>
  a.every((turn, k) => Math.abs(turn - (b[k] ?? Number.NaN)) < SAME);

const turnText = (turn: readonly number[]): string => turn.map((angle) => formatNumber('angle', angle)).join(', ');
