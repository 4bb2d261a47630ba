import type { Element, Spec } from '../spec/spec.ts';

/** Whether the header may be printed: true unless it is only fabricated. */
export function isPrinted({ route }: Spec): boolean {
  return route.made !== 'fabricated';
}

/** Pieces that are judged for their printing: all that are not said to be bought, none while the printed route is closed. */
export function piecesToPrint(spec: Spec): readonly Element<'pieces'>[] {
  return isPrinted(spec) ? spec.pieces.filter(({ use }) => use !== 'bought') : [];
}

/** Pieces that are on the car: bought ones, and printed ones while the printed route is open. */
export function piecesOnCar(spec: Spec): readonly Element<'pieces'>[] {
  return isPrinted(spec) ? spec.pieces : spec.pieces.filter(({ use }) => use === 'bought');
}
