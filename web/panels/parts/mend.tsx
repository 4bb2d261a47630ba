import { useState } from 'react';
import type { MendAccount, MeshReportView, PartView } from '../../../shared/protocol/http.ts';
import { useJob } from '../job/context.ts';

/** Whether something is wrong that can be put right without guessing. */
export const mayMend = (report: MeshReportView): boolean =>
  report.degenerate + report.duplicate + report.flippedEdges + report.openEdges > 0 || report.volume < 0;

/** What was done, in words; what was not done is left out. */
export function mendWords(account: MendAccount): string {
  const { weldedVertices, droppedDegenerate, droppedDuplicate, turnedTriangles, unturnable } = account;
  const done = [
    [
      weldedVertices,
      'vertex joined that was less than 0.01 mm from another',
      'vertices joined that were less than 0.01 mm apart',
    ],
    [droppedDegenerate, 'triangle without area dropped', 'triangles without area dropped'],
    [droppedDuplicate, 'double dropped', 'doubles dropped'],
    [turnedTriangles, 'triangle turned', 'triangles turned'],
    [unturnable, 'edge left at which no turning helps', 'edges left at which no turning helps'],
  ] as const;
  const words = done
    .filter(([count]) => count > 0)
    .map(([count, one, many]) => `${count.toLocaleString('en')} ${count === 1 ? one : many}`);
  return words.length > 0 ? `${words.join(', ')}.` : 'Nothing could be put right without guessing.';
}

/** Offers a mended copy of a part: the part itself stays as it was brought. */
export function Mend({
  part,
  onMended,
}: {
  readonly part: PartView;
  readonly onMended: (copy: PartView) => void;
}): React.ReactNode {
  const { parts, canUpload } = useJob();
  const [state, setState] = useState<{ readonly busy: boolean; readonly says?: string; readonly wrong?: boolean }>({
    busy: false,
  });
  if (!canUpload) return null;
  const mend = async (): Promise<void> => {
    setState({ busy: true });
    try {
      const { part: made, account } = await parts.mend(part);
      setState({ busy: false, says: `${made.name}: ${mendWords(account)} It has its own report.` });
      onMended(made);
    } catch (error) {
      setState({ busy: false, wrong: true, says: error instanceof Error ? error.message : String(error) });
    }
  };
  return (
    <div className="part-mend">
      <button type="button" className="button" disabled={state.busy} onClick={() => void mend()}>
        {state.busy ? 'Mending...' : 'Make a mended copy'}
      </button>
      <span className="quiet">
        Joins, drops and turns triangles. Holes stay open and crossings stay: only whoever drew it knows what goes
        there.
      </span>
      {state.says !== undefined && (
        <p role={state.wrong ? 'alert' : 'status'} className={state.wrong ? 'problem' : undefined}>
          {state.says}
        </p>
      )}
    </div>
  );
}
