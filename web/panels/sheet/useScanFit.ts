import { useEffect, useRef, useState } from 'react';
import type { ScanFit } from '../../../shared/protocol/scanFit.ts';
import { setPlacedScan } from '../../../shared/spec/scanOf.ts';
import type { BayComponent } from '../../../shared/spec/spec.ts';
import { usePart } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

/** A fit that was measured. `of`: the rows it was measured of, as text; what was measured of others says nothing. */
export interface ToldFit {
  readonly kind: 'told';
  readonly fit: ScanFit;
  readonly of: string;
  /** The copy is being made. */
  readonly busy: boolean;
}

/** Where the fit of a scan onto another stands. */
export type FitStage =
  | { readonly kind: 'none' | 'measuring' }
  | ToldFit
  | { readonly kind: 'wrong' | 'done'; readonly says: string };

export interface ScanFitDesk {
  readonly stage: FitStage;
  measure(): Promise<void>;
  use(told: ToldFit): Promise<void>;
  leave(): void;
}

const none: FitStage = { kind: 'none' };
const changed: FitStage = { kind: 'wrong', says: 'A scan or its placing has changed since: try again.' };
const failed = (error: unknown): FitStage => ({
  kind: 'wrong',
  says: error instanceof Error ? error.message : String(error),
});

/** The fit of a bay component's scan onto another's: tried, and then used or left. */
export function useScanFit(row: BayComponent, onto: BayComponent | undefined): ScanFitDesk {
  const { session, scans } = useJob();
  const datums = usePart(session.spec, (spec) => spec.datums);
  const [stage, setStage] = useState<FitStage>(none);
  const asking = useRef<AbortController>(null);
  useEffect(() => () => asking.current?.abort(), []);
  const of = JSON.stringify([row, onto, datums]);
  const leave = (): void => {
    asking.current?.abort();
    setStage(none);
  };
  const measure = async (): Promise<void> => {
    if (!onto) return;
    leave();
    const { signal } = restarted(asking);
    setStage({ kind: 'measuring' });
    const next = await scans
      .fit({ component: row.id, onto: onto.id }, signal)
      .then(
        (told): FitStage =>
          told.state === 'done'
            ? { kind: 'told', fit: told.result, of, busy: false }
            : { kind: 'wrong', says: told.reason },
        failed,
      );
    if (!signal.aborted) setStage(next);
  };
  const taken = useTaking(row);
  const use = async (told: ToldFit): Promise<void> => {
    if (!onto) return;
    setStage({ ...told, busy: true });
    setStage(await taken(onto).then((says): FitStage => ({ kind: 'done', says }), failed));
  };
  const stale = stage.kind === 'told' && !stage.busy && stage.of !== of;
  return { stage: stale ? changed : stage, measure, use, leave };
}

function restarted(asking: { current: AbortController | null }): AbortController {
  const controller = new AbortController();
  asking.current = controller;
  return controller;
}

/** Makes the copy and names it as the component's scan, in one edit; gives what to tell. */
function useTaking(row: BayComponent): (onto: BayComponent) => Promise<string> {
  const { session, scans } = useJob();
  return async (onto) => {
    const was = scans.find(row)?.name ?? 'The scan it had';
    const made = await scans.fitted({ component: row.id, onto: onto.id });
    // Somebody may have removed the row meanwhile: an edit would bring half of it back.
    if (!session.spec.get().components.some(({ id }) => id === row.id)) return `${made.scan.name} is in the job.`;
    session.undo.stopCapturing();
    setPlacedScan(session.specDocument.doc, row.id, made);
    return `${made.scan.name} is its scan now. ${was} stays in the job; undo takes it back.`;
  };
}
