import type * as Y from 'yjs';
import { type ChangeOrigin, setField, userOrigin } from './commands.ts';

/** Names the scan that a printed piece is judged by, by content hash and unit; null takes it away. One transaction. */
export function setPieceScan(
  doc: Y.Doc,
  printed: string,
  scan: { readonly sha256: string; readonly unit: string } | null,
  origin: ChangeOrigin = userOrigin,
): void {
  doc.transact(() => {
    setField(doc, `printedPieces.${printed}.scan`, scan?.sha256 ?? null, origin);
    setField(doc, `printedPieces.${printed}.scanUnit`, scan?.unit ?? null, origin);
  }, origin);
}
