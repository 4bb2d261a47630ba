import type * as Y from 'yjs';
import { type ChangeOrigin, setField, userOrigin } from './commands.ts';

/** Sets where the scan has a datum point, metres as its file has them. One transaction, so undo takes it back whole. */
export function setScanPlace(
  doc: Y.Doc,
  datum: string,
  [x, y, z]: readonly [number, number, number],
  origin: ChangeOrigin = userOrigin,
): void {
  doc.transact(() => {
    setField(doc, `datums.${datum}.scanX`, x, origin);
    setField(doc, `datums.${datum}.scanY`, y, origin);
    setField(doc, `datums.${datum}.scanZ`, z, origin);
  }, origin);
}
