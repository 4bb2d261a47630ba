import { describe, expect, it } from 'vitest';
import { buildCentreline, piecesBetween } from './centreline.ts';
import { footOnPieces } from './distance.ts';
import { inventedRunner } from './invent.ts';
import { gapToTube, squaredToCentreline, tubeKernel } from './kernel.ts';
import type { Piece } from './piece.ts';
import { clipPiece } from './piece.ts';
import type { Random } from './random.ts';
import { seededRandom } from './random.ts';
import type { Vec3 } from './vector.ts';
import { along } from './vector.ts';

function piecesOf(random: Random, bends: number): readonly Piece[] {
  const line = buildCentreline(inventedRunner(random, bends));
  if (!line.ok) throw new Error('the generator made a bad runner');
  return line.pieces;
}

const somewhere = (random: Random): Vec3 => [random() - 0.5, random() - 0.5, random() - 0.3];

describe('packed distances against the plain ones', () => {
  it.each([
    ['whole runners', (random: Random) => piecesOf(random, 4)],
    ['single arcs', (random: Random) => piecesOf(random, 1).filter((p) => p.kind === 'arc')],
    [
      'arcs cut at both ends',
      (random: Random) =>
        piecesOf(random, 1).flatMap((p) => (p.kind === 'arc' ? [clipPiece(p, p.length * 0.2, p.length * 0.7)] : [])),
    ],
    ['single straights', (random: Random) => piecesOf(random, 0)],
  ])('%s (seed 51, 40 of them, 100 points each)', (_, make) => {
    const random = seededRandom(51);
    for (let i = 0; i < 40; i++) {
      const pieces = make(random);
      const kernel = tubeKernel(pieces, 0.01);
      if (!kernel) throw new Error('no kernel');
      for (let k = 0; k < 100; k++) {
        const p = somewhere(random);
        const foot = footOnPieces(pieces, p);
        const plain = foot?.distance ?? Number.NaN;
        expect(Math.abs(Math.sqrt(squaredToCentreline(kernel, p)) - plain)).toBeLessThan(1e-12);
        // The tube with flat ends lies within the tube with round ones.
        expect(gapToTube(kernel, p)).toBeGreaterThan(plain - 0.01 - 1e-12);
      }
    }
  });

  it('have no crack between two pieces: points square to every joint are beside the tube (seed 52)', () => {
    const random = seededRandom(52);
    for (let i = 0; i < 100; i++) {
      const line = buildCentreline(inventedRunner(random, 4));
      if (!line.ok) throw new Error('the generator made a bad runner');
      const kernel = tubeKernel(line.pieces, 0.004);
      if (!kernel) throw new Error('no kernel');
      for (const piece of line.pieces) {
        if (piece.kind !== 'arc') continue;
        const out = 0.007;
        const p = along(piece.start, piece.u, out);
        expect(gapToTube(kernel, p)).toBeLessThanOrEqual(0.003 + 1e-12);
      }
    }
  });

  it('give nothing for nothing', () => {
    expect(tubeKernel([], 0.01)).toBeUndefined();
    const line = buildCentreline(inventedRunner(seededRandom(1), 1));
    expect(line.ok && piecesBetween(line, 0.2, 0.2)).toEqual([]);
  });
});
