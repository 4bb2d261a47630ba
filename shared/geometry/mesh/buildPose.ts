import type { Vec3 } from '../vector.ts';
import { dot } from '../vector.ts';
import { columnSupport } from './columnRaster.ts';
import { leastAlong } from './extent.ts';
import type { FaceTable } from './faces.ts';
import { facesOf } from './faces.ts';
import { LIMIT_SLACK, normalBins, plateSupport } from './normalBins.ts';
import type { Mat3, Quaternion } from './rotation.ts';
import { rowsOf, spreadDirections, turnedMesh, turnUpright } from './rotation.ts';
import type { TriangleMesh } from './triangleMesh.ts';
import { boxOf, boxSize } from './triangleMesh.ts';
import { triangleTree } from './triangleTree.ts';

/** Width of the support columns when none is given, metres (own: within 1 % of half that on a header). */
const RASTER = 0.001;
/** A face counts as lying on the plate when it is no higher than this, metres (own: a fiftieth of a layer). */
const ON_PLATE = 1e-6;
/** Two poses nearer than this are one choice, radians (own: wider than the directions tried stand apart). */
const APART = (8 * Math.PI) / 180;

/** How to look at a pose. */
export interface PoseOptions {
  /** Least angle from the plate, radians, at which a face carries itself; a downward face flatter than this needs support. */
  readonly overhangAngle: number;
  /** Width of the columns in which support down to the part is counted, metres; 0.001 when left out. */
  readonly raster?: number;
}

/** Measures of a part in a pose, the plate level and touching its lowest point. */
export interface PoseMeasures {
  /** Area of the downward faces flatter than the limit angle, those on the plate included, m2. */
  readonly downskinArea: number;
  /** The part of that area that lies flat on the plate and needs no support, m2. */
  readonly plateArea: number;
  /** Volume from those faces straight down to the plate, through everything in between; exact, m3. */
  readonly supportToPlate: number;
  /** Volume from those faces down to the next surface of the part or the plate, m3; counted in columns. */
  readonly supportToPart: number;
  /** The part of that which stands on the part itself, m3. */
  readonly supportOnPart: number;
  /** Width of the columns used, metres: wider than asked when the part would have taken too many. */
  readonly raster: number;
  /** Size of the box around the part in the pose: x, y and height z, metres. */
  readonly box: Vec3;
  /** Height of the lowest point over the origin of the turned frame, metres. */
  readonly lowest: number;
}

/**
 * Measures a part in a pose. The mesh should be closed and oriented; support under an open mesh is counted from what faces there are.
 * @param pose turns the part's frame into the build's, whose plate is level and whose layers grow along +z
 */
export function poseMeasures(mesh: TriangleMesh, pose: Quaternion | Mat3, options: PoseOptions): PoseMeasures {
  return measureTurned(turnedMesh(mesh, pose), facesOf(mesh), pose, options);
}

function measureTurned(
  turned: TriangleMesh,
  faces: FaceTable,
  pose: Quaternion | Mat3,
  { overhangAngle, raster = RASTER }: PoseOptions,
): PoseMeasures {
  const rows = rowsOf(pose);
  const box = boxOf(turned);
  const lowest = box ? box.least[2] : 0;
  const under = downskin(faces, [rows[6], rows[7], rows[8]], { cosine: Math.cos(overhangAngle), plate: lowest });
  const support = columnSupport(turned, under.marked, { raster, plate: lowest });
  return {
    downskinArea: under.area,
    plateArea: under.plateArea,
    supportToPlate: under.volume,
    supportToPart: support.toPart,
    supportOnPart: support.onPart,
    raster: support.raster,
    box: box ? boxSize(box) : [0, 0, 0],
    lowest,
  };
}

/** Face by face: those flatter than the limit, marked, with their area and the prisms from them down to the plate. */
function downskin(faces: FaceTable, up: Vec3, limit: { readonly cosine: number; readonly plate: number }) {
  const { count, area, normal, middle } = faces;
  const along = (list: Float64Array, t: number): number =>
    (list[3 * t] ?? 0) * up[0] + (list[3 * t + 1] ?? 0) * up[1] + (list[3 * t + 2] ?? 0) * up[2];
  const marked = new Uint8Array(count);
  const sums = { area: 0, plateArea: 0, volume: 0 };
  for (let t = 0; t < count; t++) {
    const down = -along(normal, t);
    if (down <= limit.cosine + LIMIT_SLACK) continue;
    const height = along(middle, t) - limit.plate;
    marked[t] = 1;
    sums.area += area[t] ?? 0;
    if (height < ON_PLATE) sums.plateArea += area[t] ?? 0;
    sums.volume += down * (area[t] ?? 0) * height;
  }
  return { ...sums, marked };
}

/** What to search poses by. */
export interface PoseSearch extends PoseOptions {
  /** Number of directions tried; 1000 when left out. */
  readonly directions?: number;
  /** How many of the best are measured fully and given; 20 when left out. */
  readonly best?: number;
  /** Directions of the bores in the part's frame, unit length: tangents sampled along their centrelines. */
  readonly bores?: readonly Vec3[];
  /** What the choices are ordered by; support down to the part when left out. */
  readonly by?: 'support' | 'height' | 'bore';
}

/** A pose worth looking at. */
export interface PoseChoice {
  /** The direction of the part's frame that stands upright, unit length. */
  readonly up: Vec3;
  /** The turn that brings it there. Turning on about the upright changes none of the figures. */
  readonly pose: Quaternion;
  /** As in PoseMeasures; m2 and m3. */
  readonly downskinArea: number;
  readonly plateArea: number;
  readonly supportToPlate: number;
  readonly supportToPart: number;
  /** Height of the part, metres. */
  readonly height: number;
  /** Least angle between a bore and the plate, radians; undefined when no bores were named. */
  readonly leastBoreAngle: number | undefined;
}

/**
 * The best poses of a part, best first. All directions are tried for support down to the plate (exact), height and bores; the best `best`
 * by the first and a quarter as many by each of the others, no two within 8 degrees, are measured fully and given.
 */
export function searchPoses(mesh: TriangleMesh, search: PoseSearch): readonly PoseChoice[] {
  if (mesh.indices.length === 0) return [];
  const faces = facesOf(mesh);
  const trials = tryDirections(mesh, faces, search);
  const best = Math.max(1, Math.floor(search.best ?? 20));
  const few = Math.ceil(best / 4);
  const chosen = pick(trials, best, (t) => t.supportToPlate);
  const others = [...pick(trials, few, (t) => t.height), ...pick(trials, few, (t) => -(t.leastBoreAngle ?? 0))];
  for (const trial of search.bores?.length ? others : others.slice(0, few)) {
    if (!chosen.includes(trial)) chosen.push(trial);
  }
  const choices = chosen.map((trial): PoseChoice => {
    const pose = turnUpright(trial.up);
    const { supportToPart, plateArea } = measureTurned(turnedMesh(mesh, pose), faces, pose, search);
    return { ...trial, pose, supportToPart, plateArea };
  });
  const rank = RANKS[search.by ?? 'support'];
  return choices.sort((a, b) => rank(a) - rank(b) || a.supportToPlate - b.supportToPlate);
}

/** The smaller the better. */
const RANKS: Readonly<Record<'support' | 'height' | 'bore', (choice: PoseChoice) => number>> = {
  support: (choice) => choice.supportToPart,
  height: (choice) => choice.height,
  bore: (choice) => -(choice.leastBoreAngle ?? 0),
};

type Trial = Omit<PoseChoice, 'pose' | 'supportToPart' | 'plateArea'>;

const AXES: readonly Vec3[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
];

/** The axes of the part's own frame are tried too: parts are drawn upright more often than not. */
function tryDirections(mesh: TriangleMesh, faces: FaceTable, search: PoseSearch): readonly Trial[] {
  const bins = normalBins(faces);
  const tree = triangleTree(mesh);
  const cosine = Math.cos(search.overhangAngle);
  const bores = search.bores ?? [];
  return [...AXES, ...spreadDirections(Math.max(1, Math.floor(search.directions ?? 1000)))].map((up): Trial => {
    const plate = leastAlong(tree, up);
    const { area, volume } = plateSupport(bins, up, { cosine, plate });
    const leans = bores.map((bore) => Math.asin(Math.min(1, Math.abs(dot(bore, up)))));
    return {
      up,
      downskinArea: area,
      supportToPlate: volume,
      height: -leastAlong(tree, [-up[0], -up[1], -up[2]]) - plate,
      leastBoreAngle: leans.length > 0 ? Math.min(...leans) : undefined,
    };
  });
}

/** The best so many by a measure, none within 8 degrees of a better one. */
function pick(trials: readonly Trial[], count: number, measure: (trial: Trial) => number): Trial[] {
  const chosen: Trial[] = [];
  const near = Math.cos(APART);
  for (const trial of [...trials].sort((a, b) => measure(a) - measure(b))) {
    if (chosen.length >= count) break;
    if (chosen.every((other) => dot(other.up, trial.up) < near)) chosen.push(trial);
  }
  return chosen;
}
