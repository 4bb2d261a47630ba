import type { Room } from '../rooms/room.ts';
import { type ConcedeOutcome, type ConcedeWish, concede, type EndWish, endConcession } from './conceding.ts';
import type { DecidingParts } from './deciding.ts';
import { changePlan, type PlanOutcome, type PlanWish } from './planning.ts';
import {
  type Confirmed,
  type OfferOutcome,
  offerToSign,
  type SigningOutcome,
  type SigningWish,
  signGate,
} from './signing.ts';

/** Everything people decide about a project; each is one row of its record, or a reason why there is none. Who decides was confirmed before. */
export interface Decisions {
  /** The statement as it would be signed now; nothing is written. */
  offer(project: string, wish: SigningWish): Promise<OfferOutcome>;
  sign(project: string, confirmed: Confirmed): Promise<SigningOutcome>;
  changePlan(project: string, wish: PlanWish): Promise<PlanOutcome>;
  concede(project: string, wish: ConcedeWish): Promise<ConcedeOutcome>;
  endConcession(project: string, wish: EndWish): Promise<ConcedeOutcome>;
}

/** Decisions about projects that are opened when they are not yet. */
export function decisions(open: (project: string) => Promise<Room>, parts: DecidingParts): Decisions {
  return {
    offer: async (project, wish) => offerToSign(await open(project), wish, parts),
    sign: async (project, confirmed) => signGate(await open(project), confirmed, parts),
    changePlan: async (project, wish) => changePlan(await open(project), wish, parts),
    concede: async (project, wish) => concede(await open(project), wish, parts),
    endConcession: async (project, wish) => endConcession(await open(project), wish, parts),
  };
}
