import type { TorchReachJob, TorchReachResult } from '../../../shared/geometry/accessMeasurement.ts';
import { pointAt, tangentAt } from '../../../shared/geometry/centreline.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import { type SeamPlace, torchAccess } from '../../../shared/geometry/mesh/torchAccess.ts';
import { add, along, cross, perpendicular, scale, unit, type Vec3 } from '../../../shared/geometry/vector.ts';
import type { Attempt } from '../jobs.ts';
import type { HeaderBody } from './header-body.ts';

type TorchQuestion = Pick<TorchReachJob, 'seam' | 'torch' | 'lean' | 'places'>;

/** How much of a round seam a torch gets at, with the whole header there and nothing of the car. */
export function torchReach(
  tubes: readonly TubeReach[],
  body: HeaderBody,
  { seam, torch, lean, places }: TorchQuestion,
): Attempt<TorchReachResult> {
  const tube = tubes[seam.tube];
  if (!tube || !(seam.s >= 0 && seam.s <= tube.centreline.length)) return outside(tube, seam);
  const ring = ringOf(tube, seam.s, places);
  const access = torchAccess(body.tree(), ring, torch, { angle: lean, firstOnly: true });
  const blind = access.map(({ best }) => best === undefined);
  const run = longestRun(blind);
  const round = 2 * Math.PI * tube.outerRadius;
  return {
    ok: true,
    result: {
      share: blind.filter((b) => !b).length / places,
      blind: (run.length / places) * round,
      at: run.length > 0 ? (ring[(run.from + Math.floor((run.length - 1) / 2)) % places]?.at ?? null) : null,
    },
  };
}

function outside(tube: TubeReach | undefined, { tube: number, s }: TorchReachJob['seam']): Attempt<never> {
  const message = tube
    ? `Expected a seam within the ${tube.centreline.length.toFixed(4)} m of the runner, got ${s} m.`
    : `Expected the tube of the seam, got number ${number} of none.`;
  return { ok: false, problem: { code: 'seam-outside', message } };
}

/** Places evenly round a tube, square to it. */
function ringOf({ centreline, outerRadius }: TubeReach, s: number, count: number): readonly SeamPlace[] {
  const [middle, ahead] = [pointAt(centreline, s), tangentAt(centreline, s)];
  const side = unit(perpendicular(ahead));
  const other = cross(ahead, side);
  return Array.from({ length: count }, (_, i) => {
    const angle = (2 * Math.PI * i) / count;
    const away: Vec3 = add(scale(side, Math.cos(angle)), scale(other, Math.sin(angle)));
    return { at: along(middle, away, outerRadius), away };
  });
}

/** The longest run of trues in a ring. */
function longestRun(ring: readonly boolean[]): { readonly from: number; readonly length: number } {
  if (ring.every(Boolean)) return { from: 0, length: ring.length };
  let best = { from: 0, length: 0 };
  for (let from = 0; from < ring.length; from++) {
    let length = 0;
    while (ring[(from + length) % ring.length]) length++;
    if (length > best.length) best = { from, length };
  }
  return best;
}
