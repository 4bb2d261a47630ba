import type { QuantityKey } from './quantities.ts';

declare const brand: unique symbol;

/** A number in the SI unit of one quantity. Only {@link si} makes one, so a millimetre or a psi cannot slip in unseen. */
export type Si<Q extends QuantityKey> = number & { readonly [brand]: Q };

/** Marks a plain number as SI of quantity `q`. The caller answers for the unit; the one cast of shared/ lives here. */
export function si<Q extends QuantityKey>(_q: Q, value: number): Si<Q> {
  return value as Si<Q>;
}
