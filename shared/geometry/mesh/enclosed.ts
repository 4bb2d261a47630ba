import type { Vec3 } from '../vector.ts';
import type { AirBasins, Contact } from './airBasins.ts';
import { airBasins, LEAST_RADIUS, NO_BASIN } from './airBasins.ts';
import { edgesOf } from './edges.ts';
import { Groups } from './groups.ts';
import { groupsAround } from './inside.ts';
import { NearestFinder } from './nearest.ts';
import { RayCaster } from './rayHit.ts';
import { shellsOf } from './shells.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { cornerAt } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';
import type { VoxelGrid } from './voxelGrid.ts';
import { middleOfVoxel, voxelGrid } from './voxelGrid.ts';

/** A way out of an enclosed volume: diameter of the largest ball that passes (metres) and the narrowest place. */
export interface Opening {
  readonly diameter: number;
  readonly at: Vec3;
}

/** Air that the part closes in, m3, and its ways out, widest first; without any it is sealed. */
export interface EnclosedVolume {
  readonly volume: number;
  /** A place in it or on its wall, metres. */
  readonly at: Vec3;
  readonly openings: readonly Opening[];
}

/** Ways out wider than this are no matter for powder, metres (own: four times the exit a print bureau asks for). */
const OPEN = 0.02;

/**
 * Volumes from which powder must come out, largest first, of a closed, oriented mesh.
 * Sealed ones that a shell of their own bounds have the exact volume of that shell. All others are found in cubes: air whose largest ball is
 * half again as wide as its way out and at least six cubes across. Diameters are right to about half a cube, volumes to about half a cube's
 * depth of their surface; a way out narrower than two cubes counts as none. Air open by more than 20 mm is not enclosed. An opening may lead
 * into another enclosed volume, which is then listed too.
 * @param voxel edge of a cube, metres; larger ones are used when more than eight million would come
 */
export function enclosedVolumes(mesh: TriangleMesh, voxel: number): readonly EnclosedVolume[] {
  const grid = voxelGrid(mesh, voxel);
  if (!grid) return [];
  const basins = airBasins(grid, OPEN / 2 / grid.edge);
  const sealed = sealedShells(mesh);
  const volumes = volumesOf(grid, basins);
  const finder = new NearestFinder(triangleTree(mesh));
  const found = sealed.volumes.map(({ volume, at }): EnclosedVolume => ({ volume, at, openings: [] }));
  for (const [basin, peak] of basins.peaks) {
    if (basin === basins.outside || peak < LEAST_RADIUS * LEAST_RADIUS) continue;
    const openings = openingsOf(grid, basins, basin, finder);
    if (openings.length === 0 && sealed.holds(middleOfVoxel(grid, basin))) continue;
    found.push({ volume: volumes.get(basin) ?? 0, at: middleOfVoxel(grid, basin), openings });
  }
  return found.sort((a, b) => b.volume - a.volume);
}

/** Shells of negative volume: the walls of sealed cavities. */
function sealedShells(mesh: TriangleMesh): {
  readonly volumes: readonly { readonly volume: number; readonly at: Vec3 }[];
  readonly holds: (p: Vec3) => boolean;
} {
  const shells = shellsOf(mesh, edgesOf(mesh));
  const cavities = Array.from(shells.volumes, (volume, shell) => ({ volume, shell })).filter((one) => one.volume < 0);
  if (cavities.length === 0) return { volumes: [], holds: () => false };
  const tree = triangleTree(mesh);
  const caster = new RayCaster(tree);
  const cavityOf = (leaf: number): number => {
    const shell = shells.ofTriangle[tree.order[leaf] ?? 0] ?? -1;
    return (shells.volumes[shell] ?? 0) < 0 ? shell : -1;
  };
  const first = new Map<number, number>();
  for (const [triangle, shell] of shells.ofTriangle.entries()) if (!first.has(shell)) first.set(shell, triangle);
  const volumes = cavities.map(({ volume, shell }) => ({
    volume: -volume,
    at: cornerAt(mesh, first.get(shell) ?? 0, 0),
  }));
  return { volumes, holds: (p) => groupsAround(caster, p, cavityOf) > 0 };
}

/** Volume of each basin: its cubes, and those the surface goes through whose middle is in air, which count to a basin beside them. */
function volumesOf(grid: VoxelGrid, { basinOf }: AirBasins): ReadonlyMap<number, number> {
  const { columns, rows, metal, edge } = grid;
  const plane = columns * rows;
  const steps = [0, 1, -1, columns, -columns, plane, -plane];
  const counts = new Map<number, number>();
  for (let cube = 0; cube < metal.length; cube++) {
    if (metal[cube]) continue;
    const step = steps.find((to) => (basinOf[cube + to] ?? NO_BASIN) !== NO_BASIN);
    if (step === undefined) continue;
    const basin = basinOf[cube + step] ?? NO_BASIN;
    counts.set(basin, (counts.get(basin) ?? 0) + 1);
  }
  return new Map(Array.from(counts, ([basin, count]) => [basin, count * edge ** 3]));
}

/** The places where a basin meets others, those that touch each other as one way out. */
function openingsOf(
  grid: VoxelGrid,
  { contacts }: AirBasins,
  basin: number,
  finder: NearestFinder,
): readonly Opening[] {
  const mine = contacts.filter(({ a, b }) => a === basin || b === basin);
  const widest = new Map<number, Opening>();
  const ways = touching(grid, mine);
  for (const [i, { cube }] of mine.entries()) {
    const way = ways.of(i);
    const here = ballAt(middleOfVoxel(grid, cube), finder);
    if (here.diameter > (widest.get(way)?.diameter ?? 0)) widest.set(way, here);
  }
  return Array.from(widest.values(), (found) => centred(found, grid.edge / 2, finder))
    .filter(({ diameter }) => diameter >= 2 * grid.edge)
    .sort((a, b) => b.diameter - a.diameter);
}

/** The largest ball about a point that the surface leaves room for. */
function ballAt(at: Vec3, finder: NearestFinder): Opening {
  return { diameter: 2 * Math.sqrt(finder.find(at, OPEN * OPEN)), at };
}

/** Moves a ball to where there is most room, no farther than `reach` along each axis: farther on, the passage may widen. */
function centred(start: Opening, reach: number, finder: NearestFinder): Opening {
  let best = start;
  for (let step = reach / 2; step > reach / 32; step /= 2) {
    for (let moved = true; moved; ) {
      moved = false;
      for (const [axis, way] of WAYS) {
        const at: Vec3 = [
          best.at[0] + way * axis[0] * step,
          best.at[1] + way * axis[1] * step,
          best.at[2] + way * axis[2] * step,
        ];
        if (at.some((x, k) => Math.abs(x - (start.at[k] ?? x)) > reach)) continue;
        const here = ballAt(at, finder);
        if (here.diameter <= best.diameter) continue;
        best = here;
        moved = true;
      }
    }
  }
  return best;
}

const WAYS: readonly (readonly [Vec3, 1 | -1])[] = [
  [[1, 0, 0], 1],
  [[1, 0, 0], -1],
  [[0, 1, 0], 1],
  [[0, 1, 0], -1],
  [[0, 0, 1], 1],
  [[0, 0, 1], -1],
];

function touching({ columns, rows }: VoxelGrid, contacts: readonly Contact[]): Groups {
  const groups = new Groups(contacts.length);
  const at = new Map(contacts.map(({ cube }, i) => [cube, i]));
  const near = [-1, 0, 1];
  const steps = near.flatMap((k) => near.flatMap((j) => near.map((i) => i + columns * (j + rows * k))));
  for (const [i, { cube }] of contacts.entries()) {
    for (const step of steps) {
      const other = at.get(cube + step);
      if (other !== undefined) groups.join(i, other);
    }
  }
  return groups;
}
