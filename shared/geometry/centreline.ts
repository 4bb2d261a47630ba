import type { ArcPiece, LinePiece, Piece } from './piece.ts';
import { clipPiece, pointOnPiece, tangentOnPiece } from './piece.ts';
import type { Vec3 } from './vector.ts';
import { along, cross, distance, dot, norm, scale, subtract, unit } from './vector.ts';

/** One row of a node table, metres. The radius counts at inner nodes only: the bend radius of the centreline there. */
export interface CentrelineNode {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly radius: number;
}

/** One bend: the row of the node table it belongs to, turning angle (radians), centreline radius and setback (metres). */
export interface Bend {
  readonly node: number;
  readonly angle: number;
  readonly radius: number;
  /** Distance from the node back to where the bend begins: radius tan(angle / 2). */
  readonly setback: number;
}

/** An exact run of straights and circular bends that meet without a kink. Metres; tangents are unit, in the direction of travel. */
export interface Centreline {
  readonly ok: true;
  readonly pieces: readonly Piece[];
  readonly length: number;
  readonly startTangent: Vec3;
  readonly endTangent: Vec3;
  readonly bends: readonly Bend[];
}

/** Why a node table describes no centreline. `node` is the row at fault, counted from 0; lengths in metres. */
export type CentrelineProblem =
  | { readonly ok: false; readonly code: 'too-few-nodes'; readonly count: number }
  | { readonly ok: false; readonly code: 'not-finite'; readonly node: number }
  | { readonly ok: false; readonly code: 'coincident'; readonly node: number; readonly distance: number }
  | { readonly ok: false; readonly code: 'no-radius'; readonly node: number; readonly radius: number }
  | { readonly ok: false; readonly code: 'reversal'; readonly node: number }
  | {
      readonly ok: false;
      readonly code: 'bend-does-not-fit';
      readonly node: number;
      /** Straight the bend uses up on the tighter side. */
      readonly setback: number;
      /** Straight left for it there, after the neighbouring bend has taken its own. */
      readonly available: number;
    };

/** A place on a centreline: distance from its start (metres), point, unit direction of travel. */
export interface Station {
  readonly s: number;
  readonly point: Vec3;
  readonly tangent: Vec3;
}

/** Nodes nearer than this are the same place, metres (own: a thousandth of what any scan or bender resolves). */
const SAME_PLACE = 1e-6;
/** Turning less than this is no bend, radians (own: moves a 1 m runner by 1 nm). */
const NO_TURN = 1e-9;
/** Turning nearer than this to a half turn has no finite bend, radians (own). */
const REVERSAL = 1e-6;
/** Slack when bends share a straight exactly, metres (own: far above rounding, far below any tolerance). */
const FIT_SLACK = 1e-9;

/**
 * Builds the exact centreline of a node table: first and last node are the ends, inner nodes are vertices rounded by their bend radius.
 * An inner node on the straight between its neighbours is no bend and needs no radius. Nothing is thrown: bad rows come back as a problem.
 * @param nodes at least two rows, metres
 */
export function buildCentreline(nodes: readonly CentrelineNode[]): Centreline | CentrelineProblem {
  if (nodes.length < 2) return { ok: false, code: 'too-few-nodes', count: nodes.length };
  const broken = nodes.findIndex((n, i) => !isFiniteNode(n, i > 0 && i < nodes.length - 1));
  if (broken >= 0) return { ok: false, code: 'not-finite', node: broken };
  const points = nodes.map((n): Vec3 => [n.x, n.y, n.z]);
  const legs = legsBetween(points);
  const short = legs.findIndex((leg) => !(leg.length > SAME_PLACE));
  const tooShort = legs[short];
  if (tooShort) return { ok: false, code: 'coincident', node: short + 1, distance: tooShort.length };
  const bends: Bend[] = [];
  for (let i = 1; i < legs.length; i++) {
    const bend = bendAt(i, legs, nodes[i]?.radius ?? Number.NaN);
    if (bend && 'ok' in bend) return bend;
    if (bend) bends.push(bend);
  }
  return misfit(legs, bends) ?? assemble(legs, bends);
}

interface Leg {
  readonly start: Vec3;
  readonly end: Vec3;
  readonly direction: Vec3;
  readonly length: number;
}

const isFiniteNode = (n: CentrelineNode, inner: boolean): boolean =>
  Number.isFinite(n.x) && Number.isFinite(n.y) && Number.isFinite(n.z) && (!inner || Number.isFinite(n.radius));

function legsBetween(points: readonly Vec3[]): Leg[] {
  const legs: Leg[] = [];
  points.reduce((start, end) => {
    legs.push({ start, end, direction: unit(subtract(end, start)), length: distance(start, end) });
    return end;
  });
  return legs;
}

function bendAt(node: number, legs: readonly Leg[], radius: number): Bend | CentrelineProblem | undefined {
  const [before, after] = [legs[node - 1], legs[node]];
  if (!before || !after) return undefined;
  // atan2 of sine and cosine keeps full precision at both ends of the range, acos does not.
  const angle = Math.atan2(norm(cross(before.direction, after.direction)), dot(before.direction, after.direction));
  if (angle < NO_TURN) return undefined;
  if (angle > Math.PI - REVERSAL) return { ok: false, code: 'reversal', node };
  if (!(radius > 0)) return { ok: false, code: 'no-radius', node, radius };
  return { node, angle, radius, setback: radius * Math.tan(angle / 2) };
}

function misfit(legs: readonly Leg[], bends: readonly Bend[]): CentrelineProblem | undefined {
  const setbackAt = new Map(bends.map((b) => [b.node, b.setback]));
  for (const [i, leg] of legs.entries()) {
    const [near, far] = [setbackAt.get(i) ?? 0, setbackAt.get(i + 1) ?? 0];
    if (near + far <= leg.length + FIT_SLACK) continue;
    // The larger of two bends that share a straight is the one to change first.
    const [node, setback, other] = far >= near ? [i + 1, far, near] : [i, near, far];
    return { ok: false, code: 'bend-does-not-fit', node, setback, available: Math.max(0, leg.length - other) };
  }
  return undefined;
}

function assemble(legs: readonly Leg[], bends: readonly Bend[]): Centreline {
  const bendAtNode = new Map(bends.map((b) => [b.node, b]));
  const pieces: Piece[] = [];
  let s = 0;
  for (const [i, leg] of legs.entries()) {
    const [from, bend] = [bendAtNode.get(i)?.setback ?? 0, bendAtNode.get(i + 1)];
    const straight = leg.length - from - (bend?.setback ?? 0);
    if (straight > FIT_SLACK) {
      s = appendLine(pieces, {
        kind: 'line',
        start: along(leg.start, leg.direction, from),
        direction: leg.direction,
        length: straight,
        s0: s,
      });
    }
    const next = legs[i + 1];
    if (!bend || !next) continue;
    const arc = arcOf(bend, leg, { direction: next.direction, s0: s });
    pieces.push(arc);
    s += arc.length;
  }
  const [first, last] = [legs[0], legs.at(-1)];
  const zero: Vec3 = [0, 0, 0];
  return {
    ok: true,
    pieces,
    length: s,
    startTangent: first?.direction ?? zero,
    endTangent: last?.direction ?? zero,
    bends,
  };
}

/** Adds a straight, joined to the one before when no bend lies between; gives the distance at its end. */
function appendLine(pieces: Piece[], line: LinePiece): number {
  const last = pieces.at(-1);
  if (last?.kind === 'line') {
    const way = subtract(along(line.start, line.direction, line.length), last.start);
    pieces[pieces.length - 1] = { ...last, direction: unit(way), length: norm(way) };
    return last.s0 + norm(way);
  }
  pieces.push(line);
  return line.s0 + line.length;
}

function arcOf(bend: Bend, leg: Leg, next: { readonly direction: Vec3; readonly s0: number }): ArcPiece {
  const start = along(leg.end, leg.direction, -bend.setback);
  const inward = unit(along(next.direction, leg.direction, -dot(next.direction, leg.direction)));
  const { radius, angle } = bend;
  return {
    kind: 'arc',
    centre: along(start, inward, radius),
    start,
    u: scale(inward, -1),
    v: leg.direction,
    radius,
    angle,
    length: radius * angle,
    s0: next.s0,
  };
}

/** The piece that holds distance s (metres), and how far into it. s is clamped to 0..length. */
function locate(line: Centreline, s: number): { readonly piece: Piece; readonly t: number } | undefined {
  const clamped = Math.min(Math.max(s, 0), line.length);
  const piece = line.pieces.find((p) => clamped <= p.s0 + p.length) ?? line.pieces.at(-1);
  return piece && { piece, t: Math.min(Math.max(clamped - piece.s0, 0), piece.length) };
}

/** The point at distance s (metres) along a centreline; s is clamped to 0..length. */
export function pointAt(line: Centreline, s: number): Vec3 {
  const place = locate(line, s);
  return place ? pointOnPiece(place.piece, place.t) : [Number.NaN, Number.NaN, Number.NaN];
}

/** The unit direction of travel at distance s (metres) along a centreline; s is clamped to 0..length. */
export function tangentAt(line: Centreline, s: number): Vec3 {
  const place = locate(line, s);
  return place ? tangentOnPiece(place.piece, place.t) : line.startTangent;
}

/**
 * The pieces between two distances along a centreline (metres, clamped to 0..length), the end pieces cut exactly.
 * Empty when nothing lies between. Every piece keeps its s0 along the whole centreline.
 */
export function piecesBetween(line: Centreline, fromS: number, toS: number): readonly Piece[] {
  const cut: Piece[] = [];
  for (const piece of line.pieces) {
    const [from, to] = [Math.max(fromS - piece.s0, 0), Math.min(toS - piece.s0, piece.length)];
    if (to - from > SAME_PLACE * 1e-3) cut.push(clipPiece(piece, from, to));
  }
  return cut;
}

/**
 * Stations along a centreline such that straight chords between them leave no arc by more than maxChordError (metres, > 0).
 * Straights get only their two ends. With `outset` the error is held at that distance outside the bend: a tube's outer fibre.
 */
export function sample(line: Centreline, maxChordError: number, outset = 0): readonly Station[] {
  const stations: Station[] = [];
  for (const piece of line.pieces) {
    const steps = piece.kind === 'line' ? 1 : chordSteps(piece.angle, piece.radius + outset, maxChordError);
    for (let i = stations.length === 0 ? 0 : 1; i <= steps; i++) {
      const t = (piece.length * i) / steps;
      stations.push({ s: piece.s0 + t, point: pointOnPiece(piece, t), tangent: tangentOnPiece(piece, t) });
    }
  }
  return stations;
}

/** How many equal chords keep an arc (angle radians, radius metres) within maxChordError (metres): radius (1 - cos(step / 2)). */
export function chordSteps(angle: number, radius: number, maxChordError: number): number {
  const step = 4 * Math.asin(Math.sqrt(Math.min(maxChordError / (2 * radius), 0.5)));
  return Math.max(1, Math.ceil(angle / step - 1e-9));
}
