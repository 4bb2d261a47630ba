import type { Vec3 } from '../vector.ts';
import { eachColumnHit } from './columnRaster.ts';
import { sampleSurface } from './surfaceSamples.ts';
import type { Box, TriangleMesh } from './triangleMesh.ts';
import { boxOf, boxSize } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

/** A part cut into cubes, with a rim of air around it. Cube i + columns (j + rows k) has its middle at origin + (i, j, k) edge. */
export interface VoxelGrid {
  readonly columns: number;
  readonly rows: number;
  readonly layers: number;
  /** Middle of the first cube, metres. */
  readonly origin: Vec3;
  /** Metres. */
  readonly edge: number;
  /** 1 where the middle of the cube is in metal: counts volumes. */
  readonly metal: Uint8Array;
  /** 1 where the cube is in metal or the surface goes through it: no way from cube side to cube side leads through a wall, however thin. */
  readonly blocked: Uint8Array;
}

/** Most cubes (own: 20 bytes each while measuring); larger cubes are used where more would come. */
const MOST_VOXELS = 8_000_000;
/** Cubes of air kept around the part, so that its outside hangs together. */
const RIM = 2;
/**
 * Distance between places on the surface that mark cubes, in cubes: each point of a wall is then within 0.35 of one, so of two cubes side by
 * side with a wall between their middles one is marked.
 */
const MARK_SPACING = 0.5;

/**
 * Cuts a closed, oriented mesh into cubes. Undefined for a mesh without triangles or an edge that is not above zero.
 * @param asked edge of a cube, metres
 */
export function voxelGrid(mesh: TriangleMesh, asked: number): VoxelGrid | undefined {
  const box = boxOf(mesh);
  if (!box || !(asked > 0) || mesh.indices.length === 0) return undefined;
  const edge = voxelEdge(box, asked);
  const [columns = 0, rows = 0, layers = 0] = cubesAcross(box, edge);
  const [x, y, z] = box.least;
  // Off the grid that made parts are drawn on: a middle on a face would be neither in nor out.
  const shift = edge * (0.5 - RIM + 0.0137);
  const count = columns * rows * layers;
  const grid = {
    columns,
    rows,
    layers,
    origin: [x + shift, y + shift, z + shift] as const,
    edge,
    metal: new Uint8Array(count),
    blocked: new Uint8Array(count),
  };
  fillMetal(mesh, grid);
  grid.blocked.set(grid.metal);
  markSurface(mesh, grid);
  return grid;
}

const cubesAcross = (box: Box, edge: number): readonly number[] =>
  boxSize(box).map((length) => Math.ceil(length / edge) + 2 * RIM + 1);

/** Edge of the cubes that a part in a box is cut into, metres: as asked (above zero), or larger where too many would come. */
export function voxelEdge(box: Box, asked: number): number {
  let edge = asked;
  while (cubesAcross(box, edge).reduce((product, n) => product * n, 1) > MOST_VOXELS) edge *= 1.05;
  return edge;
}

/** Counts solids entered less solids left along each upright line. */
function fillMetal(mesh: TriangleMesh, { columns, rows, layers, origin, edge, metal }: VoxelGrid): void {
  const turns = new Int16Array(metal.length);
  const plane = columns * rows;
  const frame = { x0: origin[0] - edge / 2, y0: origin[1] - edge / 2, columns, rows, raster: edge };
  eachColumnHit(mesh, frame, (column, height, _, down) => {
    const layer = Math.max(0, Math.ceil((height - origin[2]) / edge));
    if (layer >= layers) return;
    const at = column + plane * layer;
    turns[at] = (turns[at] ?? 0) + (down ? 1 : -1);
  });
  for (let i = 0; i < turns.length; i++) {
    const inside = (turns[i] ?? 0) + (i >= plane ? (turns[i - plane] ?? 0) : 0);
    turns[i] = inside;
    metal[i] = inside > 0 ? 1 : 0;
  }
}

function markSurface(mesh: TriangleMesh, { columns, rows, origin, edge, blocked }: VoxelGrid): void {
  const { places, count } = sampleSurface(triangleTree(mesh), MARK_SPACING * edge);
  const cube = (o: number, axis: 0 | 1 | 2): number => Math.round(((places[o + axis] ?? 0) - origin[axis]) / edge);
  for (let o = 0; o < 3 * count; o += 3) blocked[cube(o, 0) + columns * (cube(o, 1) + rows * cube(o, 2))] = 1;
}

/** Middle of a cube by its number, metres. */
export function middleOfVoxel({ columns, rows, origin, edge }: VoxelGrid, cube: number): Vec3 {
  const [i, j, k] = [cube % columns, Math.floor(cube / columns) % rows, Math.floor(cube / columns / rows)];
  return [origin[0] + i * edge, origin[1] + j * edge, origin[2] + k * edge];
}
