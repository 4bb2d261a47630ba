import { useEffect, useState } from 'react';
import { setScanPlace } from '../../../shared/spec/datums.ts';
import type { Hit } from '../../scene/bayScene.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

/** Ten micrometres: finer than any scanner sees. */
const STEPS = 1e5;

interface Aim {
  /** The datum point that is being picked, by row; null when none is. */
  readonly row: string | null;
  /** Takes what was pointed at. */
  readonly take: (hit: Hit | null) => void;
  /** What is asked of the person meanwhile. */
  readonly hint: React.ReactNode;
}

/** Picks a datum point on the scan: the next place pointed at fills the row. */
export function useAim(): Aim {
  const { session, aim } = useJob();
  const row = useStore(aim);
  const datum = usePart(session.spec, (spec) => spec.datums.find(({ id }) => id === row));
  const [missed, setMissed] = useState(false);
  // A row removed meanwhile, by whomever, is no longer aimed at.
  useEffect(() => {
    if (row !== null && !datum) aim.set(null);
    setMissed(false);
  }, [aim, row, datum]);
  const take = (hit: Hit | null): void => {
    if (!datum || !hit?.scan) {
      setMissed(true);
      return;
    }
    const [x, y, z] = hit.scan.inScan.map((v) => Math.round(v * STEPS) / STEPS);
    session.undo.stopCapturing();
    setScanPlace(session.specDocument.doc, datum.id, [x ?? 0, y ?? 0, z ?? 0]);
    aim.set(null);
  };
  const hint = datum && (
    <p className="bay-hint" role="status">
      {missed ? 'No scan point there. ' : ''}Point at {datum.name ?? datum.id} on the scan; go near first.{' '}
      <button type="button" className="button" onClick={() => aim.set(null)}>
        Leave it
      </button>
    </p>
  );
  return { row: datum ? datum.id : null, take, hint };
}
