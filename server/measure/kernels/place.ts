/** The nearest place on a triangle in double precision. Holds its own numbers: one for one thread of work. */
export class NearestPlace {
  /** The place found last, metres. */
  readonly place = new Float64Array(3);
  #x = 0;
  #y = 0;
  #z = 0;

  /** The point that is asked about, metres. */
  from(x: number, y: number, z: number): void {
    this.#x = x;
    this.#y = y;
    this.#z = z;
  }

  /**
   * Square of the distance to a triangle of nine coordinates at an offset, m2. Over the inside the distance is the height over the plane;
   * else it is that to the nearest edge. Heights come from the cross product of the edges, not from their inner products, which cancel on
   * slivers (own, from the error of the inner-product form measured in single precision).
   */
  squared(t: Float64Array, o: number): number {
    const [ax, ay, az] = [t[o] ?? 0, t[o + 1] ?? 0, t[o + 2] ?? 0];
    const [ux, uy, uz] = [(t[o + 3] ?? 0) - ax, (t[o + 4] ?? 0) - ay, (t[o + 5] ?? 0) - az];
    const [wx, wy, wz] = [(t[o + 6] ?? 0) - ax, (t[o + 7] ?? 0) - ay, (t[o + 8] ?? 0) - az];
    const [px, py, pz] = [this.#x - ax, this.#y - ay, this.#z - az];
    const [nx, ny, nz] = [uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx];
    const nn = nx * nx + ny * ny + nz * nz;
    const s = (wy * nz - wz * ny) * px + (wz * nx - wx * nz) * py + (wx * ny - wy * nx) * pz;
    const r = (ny * uz - nz * uy) * px + (nz * ux - nx * uz) * py + (nx * uy - ny * ux) * pz;
    if (nn > 0 && s >= 0 && r >= 0 && s + r <= nn) {
      const height = (nx * px + ny * py + nz * pz) / nn;
      this.#put(this.#x - height * nx, this.#y - height * ny, this.#z - height * nz);
      return height * height * nn;
    }
    const toU = this.#edge(t, o, o + 3, Number.POSITIVE_INFINITY);
    const toW = this.#edge(t, o, o + 6, toU);
    return this.#edge(t, o + 3, o + 6, toW);
  }

  /** Square of the distance to an edge between two offsets when that is less than what was found before. */
  #edge(t: Float64Array, from: number, to: number, before: number): number {
    const [ax, ay, az] = [t[from] ?? 0, t[from + 1] ?? 0, t[from + 2] ?? 0];
    const [ex, ey, ez] = [(t[to] ?? 0) - ax, (t[to + 1] ?? 0) - ay, (t[to + 2] ?? 0) - az];
    const [px, py, pz] = [this.#x - ax, this.#y - ay, this.#z - az];
    const long = ex * ex + ey * ey + ez * ez;
    const along = long > 0 ? Math.min(1, Math.max(0, (px * ex + py * ey + pz * ez) / long)) : 0;
    const [dx, dy, dz] = [px - along * ex, py - along * ey, pz - along * ez];
    const squared = dx * dx + dy * dy + dz * dz;
    if (squared >= before) return before;
    this.#put(ax + along * ex, ay + along * ey, az + along * ez);
    return squared;
  }

  #put(x: number, y: number, z: number): void {
    this.place[0] = x;
    this.place[1] = y;
    this.place[2] = z;
  }
}
