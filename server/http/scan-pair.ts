import { uploadedScan } from '../../shared/geometry/placedScan.ts';
import type { FittedScan } from '../../shared/protocol/scanFit.ts';
import { type FactContext, unmeasured } from '../../shared/quantities/context.ts';
import { scanOnCar } from '../../shared/quantities/placing.ts';
import { whyWords } from '../../shared/rules/words.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import type { BayComponent } from '../../shared/spec/spec.ts';
import { metresPer } from '../metres.ts';
import type { HttpParts, ScanOnCar } from './parts.ts';
import { Refusal } from './refusal.ts';

/** Two scans of which one can be laid on the other, or why not, in words. `placed`: how the other is placed. */
export type ScanPair =
  | {
      readonly ok: true;
      readonly moving: ScanOnCar;
      readonly onto: ScanOnCar;
      readonly placed: FittedScan['placed'];
    }
  | { readonly ok: false; readonly why: string };

type Found = { readonly ok: true; readonly on: ScanOnCar; readonly format: string } | Extract<ScanPair, { ok: false }>;

/** The scans of two bay components as the spec has them now. Refused when there is no such component. */
export async function scanPair(
  parts: HttpParts,
  project: string,
  wish: { readonly component: string; readonly onto: string },
): Promise<ScanPair> {
  const spec = readSpec(await parts.live.entries(project));
  const context = unmeasured(spec);
  const row = (id: string): BayComponent => {
    const found = spec.components.find((one) => one.id === id);
    if (!found) throw new Refusal('not-found', { detail: 'this job has no such bay component', came: id });
    return found;
  };
  const [component, other] = [row(wish.component), row(wish.onto)];
  const moving = await found(parts, project, { context, component });
  if (!moving.ok) return moving;
  const onto = await found(parts, project, { context, component: other });
  if (!onto.ok) return onto;
  if (uploadedScan(moving.on.name) === uploadedScan(onto.on.name))
    return { ok: false, why: `${nameOf(component)} and ${nameOf(other)} are in the same scan` };
  // A copy is of points: how far the surface may be from them, which clearances are lowered by, would be lost.
  if (moving.format.startsWith('stl'))
    return {
      ok: false,
      why: `the scan of ${nameOf(component)} is a surface of triangles: only scans of points can be laid on others. It can be laid on the other way round, or be brought as points`,
    };
  return { ok: true, moving: moving.on, onto: onto.on, placed: other.placed ?? 'as-uploaded' };
}

const nameOf = ({ id, name }: BayComponent): string => name ?? id;

async function found(
  { records, blobs }: HttpParts,
  project: string,
  { context, component }: { readonly context: FactContext; readonly component: BayComponent },
): Promise<Found> {
  const name = scanOnCar(context, component);
  if (!name.known) return { ok: false, why: `${nameOf(component)}: ${whyWords(name.why)}` };
  const scans = await records.scans(project);
  const scan = scans.find(({ sha256, unit }) => sha256 === component.scan && unit === component.scanUnit);
  if (!scan) return { ok: false, why: `the scan of ${nameOf(component)} has not been uploaded to this job` };
  const file = await blobs.localFile(scan.sha256);
  if (file === undefined) throw new Error(`the store has lost the file ${scan.sha256} of scan ${scan.id}`);
  const { sha256, unit, format } = scan;
  const own = { file, name: scan.name, sha256, unit, metresPerUnit: metresPer(unit) };
  return { ok: true, on: { scan: own, name: name.value }, format };
}
