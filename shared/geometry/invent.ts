import type { CentrelineNode } from './centreline.ts';
import type { Random } from './random.ts';
import type { Vec3 } from './vector.ts';
import { along, cross, perpendicular, rotate, unit } from './vector.ts';

/**
 * An invented runner whose bends always fit: legs of 60 to 150 mm, turns of 10 to 120 degrees in any plane. For tests, benches and demos.
 * @param bends number of bends, >= 0
 * @param start where it begins, metres
 */
export function inventedRunner(random: Random, bends: number, start: Vec3 = [0, 0, 0]): readonly CentrelineNode[] {
  const lengths = Array.from({ length: bends + 1 }, () => 0.06 + 0.09 * random());
  const nodes: CentrelineNode[] = [{ x: start[0], y: start[1], z: start[2], radius: 0 }];
  let direction: Vec3 = unit([random() - 0.5, random() - 0.5, random() + 0.1]);
  let point = start;
  for (const [i, length] of lengths.entries()) {
    point = along(point, direction, length);
    const turn = (10 + 110 * random()) * (Math.PI / 180);
    // A setback below half of either leg leaves the neighbouring bend its own half.
    const room = 0.48 * Math.min(length, lengths[i + 1] ?? length);
    const radius = Math.min(0.03 + 0.05 * random(), room / Math.tan(turn / 2));
    nodes.push({ x: point[0], y: point[1], z: point[2], radius: i < bends ? radius : 0 });
    const axis = rotate(perpendicular(direction), direction, 2 * Math.PI * random());
    direction = unit(rotate(direction, unit(cross(direction, axis)), turn));
  }
  return nodes;
}
