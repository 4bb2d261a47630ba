import type { Element } from '../spec/spec.ts';
import { at, derive, type Known } from '../units/known.ts';

/** Name of the mesh of a piece: content hash and unit together, because the same file in another unit is another mesh. */
export function pieceMesh(piece: Element<'pieces'>): Known<string> {
  const path = `pieces.${piece.id}`;
  return derive(
    { mesh: at(`${path}.mesh`, piece.mesh), unit: at(`${path}.meshUnit`, piece.meshUnit) },
    ({ mesh, unit }) => `${mesh}-${unit}`,
  );
}
