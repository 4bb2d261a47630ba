import { type Known, known } from '../../units/known.ts';
import { contradiction } from '../limits.ts';
import { wedgeClampForce } from './wedge-clamp-force.ts';
import { wedgeReleaseShare } from './wedge-release-share.ts';

/** What a driven wedge does at one friction; N, release over clamp force, and whether it stays without its screw. */
export interface WedgeState {
  readonly clamp: number;
  readonly releaseShare: number;
  readonly selfLocking: boolean;
}
/** The same at the low and the high end of a friction band: low friction clamps most and locks least. */
export interface WedgeBand {
  readonly low: WedgeState;
  readonly high: WedgeState;
}

/** Case 1: wedge driven by `drive` (N) parallel to the sealing face, `angle` (rad) from that face, the same friction on both faces. Source: own statics. */
export function slidingWedge(drive: number, angle: number, friction: number): Known<WedgeState> {
  const clamp = wedgeClampForce.evaluate({ drive, angle, bevelFriction: friction, backFriction: friction });
  if (!clamp.known) return clamp;
  const share = wedgeReleaseShare.evaluate({ angle, bevelFriction: friction, backFriction: friction });
  if (!share.known) return share;
  return known({ clamp: clamp.value, releaseShare: share.value, selfLocking: share.value >= 0 });
}

/** {@link slidingWedge} at both ends of a friction band; a check uses `low` for locking and `high` for the clamp force. */
export function slidingWedgeBand(drive: number, angle: number, friction: readonly [number, number]): Known<WedgeBand> {
  if (!(friction[0] <= friction[1]))
    return contradiction(`sliding wedge: expected a friction band low to high, got ${friction[0]} to ${friction[1]}`);
  const low = slidingWedge(drive, angle, friction[0]);
  if (!low.known) return low;
  const high = slidingWedge(drive, angle, friction[1]);
  return high.known ? known({ low: low.value, high: high.value }) : high;
}
