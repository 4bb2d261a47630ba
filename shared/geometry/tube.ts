/**
 * Volume swept by a full disc of radius r along a centreline of length L: pi r^2 L, m3.
 * Exact for straights and circular bends with r below the bend radius (second theorem of Pappus, memory; checked against meshes in sweep.test.ts).
 * @param radius metres, >= 0
 * @param length metres, >= 0
 */
export const sweptVolume = (radius: number, length: number): number => Math.PI * radius * radius * length;

/**
 * Volume of the metal in a tube wall, m3: the swept volume of the outside less that of the bore.
 * @param outerRadius metres
 * @param wall wall thickness, metres, 0..outerRadius
 * @param length centreline length, metres
 */
export const wallVolume = (outerRadius: number, wall: number, length: number): number =>
  Math.PI * wall * (2 * outerRadius - wall) * length;

/**
 * Area of the tube surface at a given radius, end faces not counted, m2: 2 pi r L (first theorem of Pappus, memory; r below the bend radius).
 * @param radius metres
 * @param length centreline length, metres
 */
export const surfaceArea = (radius: number, length: number): number => 2 * Math.PI * radius * length;
