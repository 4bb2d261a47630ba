import { challengeOf, type SignatureV2, statementText } from '../../shared/record/statement.ts';
import type { Clock } from '../ambient.ts';

/** How long a statement waits to be signed, ms (own: time to read it, not to go to lunch). */
export const OFFER_LIFE = 5 * 60_000;
/** Of one session at a time: an older one gives way. */
const EACH = 8;
const ALL = 10_000;

/** For whom a statement was made out; nobody else may sign it. */
export interface OfferedTo {
  readonly account: string;
  readonly session: string;
}

/** A statement as it will be signed, made out for one session of one person. */
export interface Offer extends OfferedTo {
  readonly statement: SignatureV2;
  readonly text: string;
  /** SHA-256 of the text, hex. */
  readonly sha256: string;
  /** ms. */
  readonly until: number;
}

/** Statements that wait to be signed, by nonce. In memory: what a restart forgets is read and offered again. */
export class Offers {
  private readonly kept = new Map<string, Offer>();
  private readonly clock: Clock;

  constructor(clock: Clock) {
    this.clock = clock;
  }

  add(statement: SignatureV2, to: OfferedTo): Offer {
    const now = this.clock();
    for (const [nonce, one] of this.kept) if (one.until <= now) this.kept.delete(nonce);
    // A map keeps the order in which things came: the first found is the oldest.
    const own = [...this.kept].filter(([, one]) => one.session === to.session);
    if (own.length >= EACH) this.kept.delete(own[0]?.[0] ?? '');
    if (this.kept.size >= ALL) this.kept.delete([...this.kept.keys()][0] ?? '');
    const text = statementText(statement);
    const offer = { ...to, statement, text, sha256: challengeOf(statement), until: now + OFFER_LIFE };
    this.kept.set(statement.nonce, offer);
    return offer;
  }

  /** What waits under a nonce for this session of this person. */
  find(nonce: string, { account, session }: OfferedTo): Offer | undefined {
    const offer = this.kept.get(nonce);
    return offer && offer.until > this.clock() && offer.account === account && offer.session === session
      ? offer
      : undefined;
  }

  /** The same, and it is gone: of two who come with one nonce only the first gets it. */
  take(nonce: string, to: OfferedTo): Offer | undefined {
    const offer = this.find(nonce, to);
    if (offer) this.kept.delete(nonce);
    return offer;
  }
}
