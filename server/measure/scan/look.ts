import type { Station } from '../../../shared/geometry/centreline.ts';
import { pointAt, tangentAt } from '../../../shared/geometry/centreline.ts';
import type { TubeReach } from '../../../shared/geometry/gap.ts';
import type { Frame } from '../../../shared/geometry/sweep.ts';
import { minimalTwistFrames } from '../../../shared/geometry/sweep.ts';
import { along, distance, scale, type Vec3 } from '../../../shared/geometry/vector.ts';
import { CELL, type CellBox, cellAt, type ScannedCells } from './cells.ts';

/** Looks around a station: 4 degrees apart, 3.6 mm at the middle of the reach of a usual tube. */
export const AROUND = 90;
/** Distance between stations along the centreline, metres. */
export const STEP = CELL;

/** How a look out of a tube ends. */
export const OPEN = 0;
export const SEEN = 1;
export const BLOCKED = 2;
export const GAP = 3;

/** All looks square out of one tube, unrolled: a row a station, AROUND looks a row. */
export interface View {
  readonly rows: number;
  /** How each look ends. */
  readonly ends: Uint8Array;
  /** Middle of the points met; null where none was. */
  readonly places: readonly (Vec3 | null)[];
  /** Distance from the centreline to where the look ends, metres. */
  readonly reaches: Float64Array;
}

/** What stands in the way of a look. */
export interface Surroundings {
  readonly scanned: ScannedCells;
  /** Number of the tube that fills a cell, from 1 on; 0 for none. */
  readonly tubes: Uint8Array;
}

/** Stations along the part of a tube that counts, each with a frame that does not twist. */
export function framesOf({ centreline, fromS }: TubeReach): readonly Frame[] {
  const steps = Math.max(1, Math.ceil((centreline.length - fromS) / STEP));
  const stations: Station[] = [];
  for (let i = 0; i <= steps; i++) {
    const s = fromS + ((centreline.length - fromS) * i) / steps;
    stations.push({ s, point: pointAt(centreline, s), tangent: tangentAt(centreline, s) });
  }
  return minimalTwistFrames(stations);
}

/** Marks the cells that a tube fills with its number, where none is marked yet. */
export function markTube(
  box: CellBox,
  tubes: Uint8Array,
  tube: { frames: readonly Frame[]; radius: number; number: number },
): void {
  const { radius } = tube;
  const reach = Math.ceil(radius / CELL) * CELL;
  for (const { station } of tube.frames) {
    const [x, y, z] = station.point;
    for (let dx = -reach; dx <= reach; dx += CELL)
      for (let dy = -reach; dy <= reach; dy += CELL)
        for (let dz = -reach; dz <= reach; dz += CELL) {
          if (dx * dx + dy * dy + dz * dz > radius * radius) continue;
          const cell = cellAt(box, x + dx, y + dy, z + dz);
          if (cell >= 0 && tubes[cell] === 0) tubes[cell] = tube.number;
        }
  }
}

/** Looks out of a tube in every direction square to it. */
export function lookAround(
  around: Surroundings,
  tube: { readonly frames: readonly Frame[]; readonly radius: number; readonly number: number },
  reach: number,
): View {
  const rows = tube.frames.length;
  const ends = new Uint8Array(rows * AROUND);
  const reaches = new Float64Array(rows * AROUND);
  const places: (Vec3 | null)[] = [];
  for (const [row, frame] of tube.frames.entries()) {
    for (let column = 0; column < AROUND; column++) {
      const turn = (2 * Math.PI * column) / AROUND;
      const way = along(scale(frame.normal, Math.cos(turn)), frame.binormal, Math.sin(turn));
      const from = along(frame.station.point, way, tube.radius);
      const found = look(around, { from, way, reach, own: tube.number });
      const i = row * AROUND + column;
      ends[i] = found.end;
      places.push(found.place);
      reaches[i] = found.place ? distance(found.place, frame.station.point) : tube.radius + reach;
    }
  }
  return { rows, ends, places, reaches };
}

interface Look {
  readonly from: Vec3;
  readonly way: Vec3;
  readonly reach: number;
  /** Number of the tube it leaves: its own cells do not stop it before it has left them. */
  readonly own: number;
}

function look({ scanned, tubes }: Surroundings, { from, way, reach, own }: Look): { end: number; place: Vec3 | null } {
  let before = -1;
  let left = false;
  // Half a cell a step: a cell that the look crosses for less than that may be passed over, which can only lose a surface, not invent one.
  for (let t = 0; t <= reach; t += CELL / 2) {
    const cell = cellAt(scanned.box, from[0] + t * way[0], from[1] + t * way[1], from[2] + t * way[2]);
    if (cell < 0 || cell === before) continue;
    before = cell;
    const place = scanned.middle(cell);
    if (place) return { end: SEEN, place };
    const tube = tubes[cell] ?? 0;
    if (tube !== own) left = true;
    if (tube > 0 && (tube !== own || left)) return { end: BLOCKED, place: null };
  }
  return { end: OPEN, place: null };
}
