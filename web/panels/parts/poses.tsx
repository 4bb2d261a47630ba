import { useState } from 'react';
import type { BuildPose, PartView } from '../../../shared/protocol/http.ts';
import { poseBuildTime } from '../../../shared/quantities/printBuild.ts';
import { whyWords } from '../../../shared/rules/words.ts';
import { type Piece, poseOf, setPose } from '../../../shared/spec/pieces.ts';
import { formatNumber, formatSi } from '../../../shared/units/format.ts';
import type { Known } from '../../../shared/units/known.ts';
import { areaText, volumeText } from '../../state/partReport.ts';
import { usePart } from '../../state/store.ts';
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
  const { overhang, volume, poses } = asked.answer.result;
  return (
    <>
      <p className="quiet">
        Build pose. Faces and bores flatter than {formatSi('angle', overhang)} from the plate need support
        {alloy ? ` in ${alloy}` : ' (no powder chosen yet)'}. Drawn as seen from a little below the plate, faces on
        support filled.
      </p>
      <PoseTable part={part} overhang={overhang} volume={volume} poses={poses} piece={piece} />
    </>
  );
}

interface PoseTableProps extends PosesProps {
  readonly overhang: number;
  readonly volume: number;
  readonly poses: readonly BuildPose[];
}

/** What poses are put in order by; each the less the better. */
const orders: Readonly<Record<string, (pose: TimedPose) => number>> = {
  'least support': ({ supportToPart }) => supportToPart,
  lowest: ({ height }) => height,
  'steepest bores': ({ leastBoreAngle }) => -(leastBoreAngle ?? 0),
  'shortest build': ({ time }) => (time.known ? time.value : 0),
};

type TimedPose = BuildPose & { readonly time: Known<number> };

function PoseTable({ part, overhang, volume, poses, piece }: PoseTableProps): React.ReactNode {
  const { session } = useJob();
  const printer = usePart(session.spec, (spec) => spec.printer);
  const [order, setOrder] = useState('least support');
  const chosen = poseOf(piece);
  const timed = poses.map((pose) => ({ ...pose, time: poseBuildTime({ printer }, piece, { ...pose, volume }) }));
  const by = orders[order] ?? orders['least support'];
  const sorted = by ? timed.toSorted((a, b) => by(a) - by(b)) : timed;
  const untimed = timed.find(({ time }) => !time.known)?.time;
  return (
    <div className="wide-table">
      <label className="pose-order">
        Order by{' '}
        <select value={order} onChange={(e) => setOrder(e.currentTarget.value)}>
          {Object.keys(orders).map((name) => (
            <option key={name}>{name}</option>
          ))}
        </select>
      </label>
      <table className="poses">
        <thead>
          <tr>
            <th scope="col">On the plate</th>
            <th scope="col">Chosen</th>
            <th scope="col">Support</th>
            <th scope="col">Height</th>
            <th scope="col">Flattest bore</th>
            <th scope="col">Build alone</th>
            <th scope="col">Faces on support</th>
          </tr>
        </thead>
        <tbody>
          {sorted.map((pose) => (
            <PoseRow key={pose.turn.join(' ')} part={part} piece={piece} pose={pose} overhang={overhang} />
          ))}
        </tbody>
      </table>
      {untimed && !untimed.known && <p className="quiet">No build times yet: {whyWords(untimed.why)}</p>}
      {chosen && !poses.some(({ turn }) => same(turn, chosen)) && (
        <p className="quiet">It stands in a pose of its own, turned {turnText(chosen)} deg.</p>
      )}
    </div>
  );
}

interface PoseRowProps extends PosesProps {
  readonly pose: TimedPose;
  readonly overhang: number;
}

function PoseRow({ part, piece, pose, overhang }: PoseRowProps): React.ReactNode {
  const { session, canEdit } = useJob();
  const { doc } = session.specDocument;
  const chosen = poseOf(piece);
  const stands = chosen !== null && same(pose.turn, chosen);
  const choose = (): void => {
    session.undo.stopCapturing();
    setPose(doc, piece.id, pose.turn);
  };
  return (
    <tr data-chosen={stands}>
      <td>
        <PosePicture part={part} turn={pose.turn} overhang={overhang} />
      </td>
      <td>
        {stands && <strong>stands so</strong>}
        {!stands && canEdit && (
          <button type="button" className="button" onClick={choose}>
            Stand it so
          </button>
        )}
        <span className="pose-turn quiet" title="Turned about X, Y and Z">
          {turnText(pose.turn)} deg
        </span>
      </td>
      <td data-label="Support">{volumeText(pose.supportToPart)}</td>
      <td data-label="Height">{formatSi('length', pose.height)}</td>
      <td data-label="Flattest bore">{boreText(pose.leastBoreAngle, overhang)}</td>
      <td data-label="Build alone">{pose.time.known ? formatSi('duration', pose.time.value) : 'not known'}</td>
      <td data-label="Faces">{areaText(pose.downskinArea)}</td>
    </tr>
  );
}

const boreText = (angle: number | null, overhang: number): string =>
  angle === null ? 'none in it' : `${formatSi('angle', angle)}${angle < overhang ? ', on support' : ''}`;

const same = (a: readonly number[], b: readonly number[]): boolean =>
  a.every((turn, k) => Math.abs(turn - (b[k] ?? Number.NaN)) < SAME);

const turnText = (turn: readonly number[]): string => turn.map((angle) => formatNumber('angle', angle)).join(', ');
