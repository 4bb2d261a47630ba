import type { Centreline } from './centreline.ts';
import { footOnCentreline } from './distance.ts';
import { pointOnPiece } from './piece.ts';
import type { Vec3 } from './vector.ts';

/** Farthest that samples lie apart along a line, metres (own: half of it is a tenth of what a scan resolves, or less). */
const STEP = 1e-3;

/**
 * How far a line has moved at most: the largest distance of any place on either line to the nearest place on the other, metres, 0 for the
 * same line (Hausdorff distance). Found at samples at most 1 mm apart: it may come out too small by at most half of that, and does not at the
 * ends of the lines.
 */
export function largestShift(a: Centreline, b: Centreline): number {
  return Math.max(farthest(a, b), farthest(b, a));
}

function farthest(from: Centreline, to: Centreline): number {
  let most = 0;
  for (const point of places(from)) most = Math.max(most, footOnCentreline(to, point)?.distance ?? 0);
  return most;
}

function* places({ pieces }: Centreline): Generator<Vec3> {
  for (const piece of pieces) {
    const steps = Math.max(1, Math.ceil(piece.length / STEP));
    for (let i = 0; i <= steps; i++) yield pointOnPiece(piece, (piece.length * i) / steps);
  }
}
