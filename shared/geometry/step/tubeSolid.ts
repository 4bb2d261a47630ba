import type { Centreline } from '../centreline.ts';
import { type ArcPiece, type Piece, pointOnPiece, tangentOnPiece } from '../piece.ts';
import { type Frame, minimalTwistFrames } from '../sweep.ts';
import { along, cross, dot, scale, subtract, unit, type Vec3 } from '../vector.ts';
import { flag, millimetres, type Ref, type StepFile, UNNAMED } from './stepFile.ts';

/** A bent tube. Metres. */
export interface TubeSolid {
  readonly centreline: Centreline;
  readonly outerRadius: number;
  readonly innerRadius: number;
}

/** One skin of the tube: circles where pieces meet, and the seam from one to the next. */
interface Skin {
  readonly circles: readonly Ref[];
  readonly seams: readonly Ref[];
}

/**
 * A tube as an exact solid: cylinders and tori, closed by two plane rings. Each skin has one seam, which follows the tube without twist and
 * so is a straight line on a cylinder and a circle on a torus. Gives the MANIFOLD_SOLID_BREP.
 */
export function tubeSolid(file: StepFile, tube: TubeSolid, name: string): Ref {
  const { pieces } = tube.centreline;
  const frames = framesOf(pieces);
  const outer = skin(file, pieces, frames, tube.outerRadius);
  const inner = skin(file, pieces, frames, tube.innerRadius);
  const faces = [
    ...pieces.map((piece, i) => wall(file, piece, { i, skin: outer, radius: tube.outerRadius, outward: true })),
    ...pieces.map((piece, i) => wall(file, piece, { i, skin: inner, radius: tube.innerRadius, outward: false })),
    end(file, frames[0], { outer: outer.circles[0], inner: inner.circles[0], start: true }),
    end(file, frames.at(-1), { outer: outer.circles.at(-1), inner: inner.circles.at(-1), start: false }),
  ];
  return file.add('MANIFOLD_SOLID_BREP', { text: name }, file.add('CLOSED_SHELL', UNNAMED, faces));
}

/** A frame where the tube begins and after each piece. */
function framesOf(pieces: readonly Piece[]): readonly Frame[] {
  const station = (piece: Piece, t: number) => ({
    s: piece.s0 + t,
    point: pointOnPiece(piece, t),
    tangent: tangentOnPiece(piece, t),
  });
  const [first] = pieces;
  return minimalTwistFrames([
    ...(first ? [station(first, 0)] : []),
    ...pieces.map((piece) => station(piece, piece.length)),
  ]);
}

function skin(file: StepFile, pieces: readonly Piece[], frames: readonly Frame[], radius: number): Skin {
  const places = frames.map(({ station, normal }) => along(station.point, normal, radius));
  const corners = places.map((place) => file.add('VERTEX_POINT', UNNAMED, file.point(place)));
  const edge = (from: Ref, to: Ref, curve: Ref): Ref => file.add('EDGE_CURVE', UNNAMED, from, to, curve, flag(true));
  const circles = frames.map(({ station, normal }, i) => {
    const placement = file.placement(station.point, station.tangent, normal);
    const corner = at(corners, i);
    return edge(corner, corner, file.add('CIRCLE', UNNAMED, placement, millimetres(radius)));
  });
  const seams = pieces.map((piece, i) => edge(at(corners, i), at(corners, i + 1), seam(file, piece, at(places, i))));
  return { circles, seams };
}

/** The curve of a seam from a place on. */
function seam(file: StepFile, piece: Piece, from: Vec3): Ref {
  if (piece.kind === 'line') {
    const way = file.add('VECTOR', UNNAMED, file.direction(piece.direction), 1);
    return file.add('LINE', UNNAMED, file.point(from), way);
  }
  const axis = axisOf(piece);
  const middle = along(piece.centre, axis, dot(subtract(from, piece.centre), axis));
  const out = subtract(from, middle);
  const placement = file.placement(middle, axis, unit(out));
  return file.add('CIRCLE', UNNAMED, placement, millimetres(Math.hypot(...out)));
}

/** Round which a bend turns, so that travel is anticlockwise. */
const axisOf = ({ u, v }: ArcPiece): Vec3 => cross(u, v);

function wall(
  file: StepFile,
  piece: Piece,
  where: { readonly i: number; readonly skin: Skin; readonly radius: number; readonly outward: boolean },
): Ref {
  const { i, skin: on, radius, outward } = where;
  const [first, seamRef, last] = [at(on.circles, i), at(on.seams, i), at(on.circles, i + 1)];
  // Anticlockwise seen from where the face looks: round the start, up the seam, back round the end, down the seam.
  const bound: readonly Turn[] = [
    [first, true],
    [seamRef, true],
    [last, false],
    [seamRef, false],
  ];
  const turns = outward ? bound : bound.map(([edge, forward]): Turn => [edge, !forward]).reverse();
  return face(file, [turns], surface(file, piece, radius), outward);
}

function surface(file: StepFile, piece: Piece, radius: number): Ref {
  if (piece.kind === 'arc') {
    const placement = file.placement(piece.centre, axisOf(piece), piece.u);
    return file.add('TOROIDAL_SURFACE', UNNAMED, placement, millimetres(piece.radius), millimetres(radius));
  }
  const [frame] = minimalTwistFrames([{ s: 0, point: piece.start, tangent: piece.direction }]);
  const placement = file.placement(piece.start, piece.direction, frame?.normal ?? [1, 0, 0]);
  return file.add('CYLINDRICAL_SURFACE', UNNAMED, placement, millimetres(radius));
}

/** The plane ring at an end; it looks away from the tube. */
function end(
  file: StepFile,
  frame: Frame | undefined,
  rings: { readonly outer: Ref | undefined; readonly inner: Ref | undefined; readonly start: boolean },
): Ref {
  const { outer, inner, start } = rings;
  if (!frame || !outer || !inner) throw new RangeError('expected a centreline with at least one piece');
  const { station, normal } = frame;
  const plane = file.add(
    'PLANE',
    UNNAMED,
    file.placement(station.point, scale(station.tangent, start ? -1 : 1), normal),
  );
  return face(file, [[[outer, !start]], [[inner, start]]], plane, true);
}

type Turn = readonly [edge: Ref, forward: boolean];

/** A face within loops of edges, the outer one first. */
function face(file: StepFile, loops: readonly (readonly Turn[])[], on: Ref, sameSense: boolean): Ref {
  const bounds = loops.map((turns, i) => {
    const edges = turns.map(([edge, forward]) =>
      file.add('ORIENTED_EDGE', UNNAMED, { word: '*' }, { word: '*' }, edge, flag(forward)),
    );
    const loop = file.add('EDGE_LOOP', UNNAMED, edges);
    return file.add(i === 0 ? 'FACE_OUTER_BOUND' : 'FACE_BOUND', UNNAMED, loop, flag(true));
  });
  return file.add('ADVANCED_FACE', UNNAMED, bounds, on, flag(sameSense));
}

function at<T>(list: readonly T[], i: number): T {
  const item = list[i];
  if (item === undefined) throw new RangeError(`expected item ${i} of ${list.length}`);
  return item;
}
