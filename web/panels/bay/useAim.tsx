import { useEffect, useState } from 'react';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { setPickedPlace, setScanPlace } from '../../../shared/spec/datums.ts';
import { setScanBox } from '../../../shared/spec/scanOf.ts';
import type { Hit } from '../../scene/bayScene.ts';
import type { ScanHit } from '../../scene/scan.ts';
import { usePart, useStore } from '../../state/store.ts';
import { type Aim, useJob } from '../job/context.ts';
import { pickedBox } from './pickedBox.ts';

/** Ten micrometres: finer than any scanner sees. */
const STEPS = 1e5;

/** Rows that each kind of pointing fills. */
const AIMED_AT = { datum: 'datums', box: 'components', port: 'portPoints', stud: 'studPoints' } as const;

interface Aiming {
  readonly aim: Aim | null;
  /** Takes what was pointed at. */
  readonly take: (hit: Hit | null) => void;
  /** What is asked of the person meanwhile. */
  readonly hint: React.ReactNode;
}

/** Points at the scan for a row of the sheet: the next place fills a datum point or a point of a port or stud, every further one widens the box of a component. */
export function useAim(): Aiming {
  const { session, aim: store } = useJob();
  const aim = useStore(store);
  const row = usePart(session.spec, (spec) => aim && spec[AIMED_AT[aim.kind]].find(({ id }) => id === aim.row));
  const [missed, setMissed] = useState(false);
  const [places, setPlaces] = useState<readonly Vec3[]>([]);
  // A row removed meanwhile, by whomever, is no longer aimed at.
  useEffect(() => {
    if (aim && !row) store.set(null);
  }, [store, aim, row]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another aim begins anew.
  useEffect(() => {
    setMissed(false);
    setPlaces([]);
  }, [aim]);
  const { doc } = session.specDocument;
  const fill = (id: string, { at, inScan }: ScanHit): void => {
    session.undo.stopCapturing();
    if (aim?.kind === 'box') {
      const all = [...places, at];
      setPlaces(all);
      setScanBox(doc, id, pickedBox(all) ?? null);
      return;
    }
    // A datum point is where the scan has it; a point of a port or a stud is where it is on the car.
    const onCar = aim?.kind === 'port' || aim?.kind === 'stud';
    const [x = 0, y = 0, z = 0] = (onCar ? at : inScan).map((v) => Math.round(v * STEPS) / STEPS);
    if (onCar) setPickedPlace(doc, { branch: AIMED_AT[aim.kind], id }, [x, y, z]);
    else setScanPlace(doc, id, [x, y, z]);
    store.set(null);
  };
  const take = (hit: Hit | null): void => {
    setMissed(!hit?.scan);
    if (row && hit?.scan) fill(row.id, hit.scan);
  };
  const name = row?.name ?? row?.id;
  const words =
    aim?.kind === 'box'
      ? `Point at the outermost places of ${name}: each widens its box, ${places.length} so far.`
      : `Point at ${name} on the scan; go near first.`;
  const hint = aim && row && (
    <p className="bay-hint" role="status">
      {missed ? 'No scan point there. ' : ''}
      {words}{' '}
      <button type="button" className="button" onClick={() => store.set(null)}>
        {places.length > 0 ? 'Done' : 'Leave it'}
      </button>
    </p>
  );
  return { aim: row ? aim : null, take, hint };
}
