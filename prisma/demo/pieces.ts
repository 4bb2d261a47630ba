/** The shapes of the demo's printed pieces, in car coordinates and metres: stretches of its runners, made by our own sweep. */
import { buildCentreline, type CentrelineNode } from '../../shared/geometry/centreline.ts';
import { sweptPipe } from '../../shared/geometry/mesh/sweptPipe.ts';
import type { TriangleMesh } from '../../shared/geometry/mesh/triangleMesh.ts';
import { readSpec } from '../../shared/spec/reader.ts';
import { demoSpec } from './header.ts';

/** How far the facets may stand off the round tube: half a layer. */
const CHORD = 2e-5;

/** Which corners of a runner a piece runs along, from and to; a half lies in the middle between two. */
const stretches: Readonly<Record<string, readonly [runner: string, from: number, to: number]>> = {
  'runner-5-port': ['r5', 0, 1.5],
  'runner-5-collector': ['r5', 1.5, 3],
  'runner-3': ['r3', 0, 4],
};

/** Piece ids that have a shape, in the order of the spec. */
export const demoPieces: readonly string[] = Object.keys(stretches);

/** The shape of a piece; throws for an id that is none of the demo's. */
export function demoPiece(id: string): TriangleMesh {
  const [runner, from, to] = stretches[id] ?? [id, 0, 0];
  const { runners, tube } = readSpec(demoSpec(new Map()));
  const nodes = (runners.find((one) => one.id === runner)?.nodes ?? []).map(({ x, y, z, radius }) => ({
    x: x ?? Number.NaN,
    y: y ?? Number.NaN,
    z: z ?? Number.NaN,
    radius: radius ?? 0,
  }));
  const line = buildCentreline([
    ...cornerAt(nodes, from),
    ...nodes.filter((_, i) => i > from && i < to),
    ...cornerAt(nodes, to),
  ]);
  if (!line.ok) throw new Error(`demo piece ${id}: ${line.code}`);
  const outer = (tube.outsideDiameter ?? Number.NaN) / 2;
  return sweptPipe(line, { outer, inner: outer - (tube.wall ?? Number.NaN), maxChordError: CHORD });
}

function cornerAt(nodes: readonly CentrelineNode[], place: number): readonly CentrelineNode[] {
  const [a, b] = [nodes[Math.floor(place)], nodes[Math.ceil(place)]];
  if (!a || !b) return [];
  return [{ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, z: (a.z + b.z) / 2, radius: 0 }];
}
