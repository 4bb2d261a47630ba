import type * as Y from 'yjs';
import { type ChangeOrigin, setField, userOrigin } from './commands.ts';

type Place = readonly [number, number, number];

/** Sets where the scan has a datum point, metres as its file has them. One transaction, so undo takes it back whole. */
export function setScanPlace(doc: Y.Doc, datum: string, place: Place, origin: ChangeOrigin = userOrigin): void {
  setPlace(
    doc,
    ['scanX', 'scanY', 'scanZ'].map((key) => `datums.${datum}.${key}`),
    { place, origin },
  );
}

/** Sets the place of a point picked on a port or a stud, metres on the car. One transaction, so undo takes it back whole. */
export function setPickedPlace(
  doc: Y.Doc,
  point: { readonly branch: 'portPoints' | 'studPoints'; readonly id: string },
  place: Place,
  origin: ChangeOrigin = userOrigin,
): void {
  setPlace(
    doc,
    ['x', 'y', 'z'].map((key) => `${point.branch}.${point.id}.${key}`),
    { place, origin },
  );
}

function setPlace(
  doc: Y.Doc,
  paths: readonly string[],
  { place, origin }: { readonly place: Place; readonly origin: ChangeOrigin },
): void {
  doc.transact(() => {
    for (const [k, path] of paths.entries()) setField(doc, path, place[k] ?? null, origin);
  }, origin);
}
