import type * as Y from 'yjs';
import { type ChangeOrigin, setField, userOrigin } from './commands.ts';

/**
 * Names the scan of a bay component or of a printed piece, by content hash and unit; null takes it away. One transaction.
 * @param row its path, such as `components.c1`
 */
export function setScanOf(
  doc: Y.Doc,
  row: `components.${string}` | `printedPieces.${string}`,
  scan: { readonly sha256: string; readonly unit: string } | null,
  origin: ChangeOrigin = userOrigin,
): void {
  doc.transact(() => {
    setField(doc, `${row}.scan`, scan?.sha256 ?? null, origin);
    setField(doc, `${row}.scanUnit`, scan?.unit ?? null, origin);
  }, origin);
}

/** Names the scan of a bay component and says how it is placed. One transaction. */
export function setPlacedScan(
  doc: Y.Doc,
  component: string,
  { scan, placed }: { readonly scan: { readonly sha256: string; readonly unit: string }; readonly placed: string },
  origin: ChangeOrigin = userOrigin,
): void {
  doc.transact(() => {
    setScanOf(doc, `components.${component}`, scan, origin);
    setField(doc, `components.${component}.placed`, placed, origin);
  }, origin);
}

type Corner = readonly [number, number, number];

/** Sets the part of its scan that a bay component is, metres on the car; null lets it be the whole scan. One transaction. */
export function setScanBox(
  doc: Y.Doc,
  component: string,
  box: { readonly least: Corner; readonly greatest: Corner } | null,
  origin: ChangeOrigin = userOrigin,
): void {
  doc.transact(() => {
    for (const [k, axis] of ['X', 'Y', 'Z'].entries()) {
      setField(doc, `components.${component}.from${axis}`, box?.least[k] ?? null, origin);
      setField(doc, `components.${component}.to${axis}`, box?.greatest[k] ?? null, origin);
    }
  }, origin);
}
