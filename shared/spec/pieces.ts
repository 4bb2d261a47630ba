import type * as Y from 'yjs';
import { addElement, setField, userOrigin } from './commands.ts';
import type { Element } from './spec.ts';

/** A row of the spec that says what is made in one piece. */
export type Piece = Element<'pieces'>;

/** What a piece keeps of the part file it is made from: its content hash, and the unit that names it together with that. */
export interface PieceFile {
  readonly sha256: string;
  readonly unit: string;
}

/** Longest name of a piece, as its field allows. */
const NAME_LIMIT = 40;

/** The fields of a build pose: turns about X, then Y, then Z, radians. */
const turnKeys = ['turnX', 'turnY', 'turnZ'] as const;

/** A name for a piece from its file's: without ending, at most 40 characters, and with a number when another piece has it. */
export function pieceName(file: string, pieces: readonly Pick<Piece, 'name'>[]): string {
  const bare =
    file
      .replace(/\.[^.]*$/, '')
      .replaceAll('_', ' ')
      .trim() || 'Piece';
  for (let n = 1; ; n++) {
    const after = n === 1 ? '' : ` ${n}`;
    const name = bare.slice(0, NAME_LIMIT - after.length).trimEnd() + after;
    if (!pieces.some((piece) => piece.name === name)) return name;
  }
}

/** Makes a printed piece from a part, after the others. The id must be free: a fresh one, as freshId gives. */
export function addPiece(
  doc: Y.Doc,
  piece: { readonly id: string; readonly name: string; readonly file: PieceFile },
  pieces: readonly Pick<Piece, 'order'>[],
): void {
  const order = Math.max(0, ...pieces.map((other) => other.order)) + 1;
  const { sha256, unit } = piece.file;
  const values = { name: piece.name, mesh: sha256, meshUnit: unit, use: 'printed' };
  addElement(doc, 'pieces', { id: piece.id, order, values });
}

/** Lets a piece be made from another part, or from none. What was chosen for the old one, its build pose, does not outlive it. */
export function setPieceFile(doc: Y.Doc, piece: string, file: PieceFile | null): void {
  doc.transact(() => {
    setField(doc, `pieces.${piece}.mesh`, file?.sha256 ?? null);
    setField(doc, `pieces.${piece}.meshUnit`, file?.unit ?? null);
    for (const key of turnKeys) setField(doc, `pieces.${piece}.${key}`, null);
  }, userOrigin);
}

/** Writes a build pose into a piece, as one change; radians. */
export function setPose(doc: Y.Doc, piece: string, turn: readonly [number, number, number]): void {
  doc.transact(() => {
    for (const [k, key] of turnKeys.entries()) setField(doc, `pieces.${piece}.${key}`, turn[k] ?? 0);
  }, userOrigin);
}

/** The turns of a piece's build pose, radians; null while one of them is not known. */
export function poseOf({ turnX, turnY, turnZ }: Piece): readonly [number, number, number] | null {
  return turnX === undefined || turnY === undefined || turnZ === undefined ? null : [turnX, turnY, turnZ];
}
