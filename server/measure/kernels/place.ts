import type { Nearest } from './clearance.ts';

/** The nearest place on a triangle in double precision. Holds its own numbers: one for one thread of work. */
export class NearestPlace {
  /** The place found last, metres. */
  readonly place = new Float64Array(3);
  private x = 0;
  private y = 0;
  private z = 0;

  /** The point that is asked about, metres. */
  from(x: number, y: number, z: number): void {
    this.x = x;
    this.y = y;
    this.z = z;
  }

  /**
   * Square of the distance to a triangle of nine coordinates at an offset, m2. Over the inside the distance is the height over the plane;
   * else it is that to the nearest edge. Heights come from the cross product of the edges, not from their inner products, which cancel on
   * slivers (own, from the error of the inner-product form measured in single precision).
   */
  squared(t: Float64Array, o: number): number {
    const ax = t[o] ?? 0;
    const ay = t[o + 1] ?? 0;
    const az = t[o + 2] ?? 0;
    const ux = (t[o + 3] ?? 0) - ax;
    const uy = (t[o + 4] ?? 0) - ay;
    const uz = (t[o + 5] ?? 0) - az;
    const wx = (t[o + 6] ?? 0) - ax;
    const wy = (t[o + 7] ?? 0) - ay;
    const wz = (t[o + 8] ?? 0) - az;
    const px = this.x - ax;
    const py = this.y - ay;
    const pz = this.z - az;
    const nx = uy * wz - uz * wy;
    const ny = uz * wx - ux * wz;
    const nz = ux * wy - uy * wx;
    const nn = nx * nx + ny * ny + nz * nz;
    const s = (wy * nz - wz * ny) * px + (wz * nx - wx * nz) * py + (wx * ny - wy * nx) * pz;
    const r = (ny * uz - nz * uy) * px + (nz * ux - nx * uz) * py + (nx * uy - ny * ux) * pz;
    if (nn > 0 && s >= 0 && r >= 0 && s + r <= nn) {
      const height = (nx * px + ny * py + nz * pz) / nn;
      this.put(this.x - height * nx, this.y - height * ny, this.z - height * nz);
      return height * height * nn;
    }
    const toU = this.edge(t, o, o + 3, Number.POSITIVE_INFINITY);
    const toW = this.edge(t, o, o + 6, toU);
    return this.edge(t, o + 3, o + 6, toW);
  }

  /** Square of the distance to an edge between two offsets when that is less than what was found before. */
  private edge(t: Float64Array, from: number, to: number, before: number): number {
    const ax = t[from] ?? 0;
    const ay = t[from + 1] ?? 0;
    const az = t[from + 2] ?? 0;
    const ex = (t[to] ?? 0) - ax;
    const ey = (t[to + 1] ?? 0) - ay;
    const ez = (t[to + 2] ?? 0) - az;
    const px = this.x - ax;
    const py = this.y - ay;
    const pz = this.z - az;
    const long = ex * ex + ey * ey + ez * ez;
    const part = long > 0 ? (px * ex + py * ey + pz * ez) / long : 0;
    const along = part > 0 ? Math.min(part, 1) : 0;
    const dx = px - along * ex;
    const dy = py - along * ey;
    const dz = pz - along * ez;
    const squared = dx * dx + dy * dy + dz * dz;
    if (squared >= before) return before;
    this.put(ax + along * ex, ay + along * ey, az + along * ez);
    return squared;
  }

  private put(x: number, y: number, z: number): void {
    this.place[0] = x;
    this.place[1] = y;
    this.place[2] = z;
  }
}

/** Of pairs equally near the one with the lower numbers, so that the answer does not depend on the order of the walk. */
export const level = (found: Nearest, best: Nearest): boolean =>
  found.distance === best.distance &&
  (found.point < best.point || (found.point === best.point && found.triangle < best.triangle));
