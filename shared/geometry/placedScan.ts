import type { Motion } from './motion.ts';
import type { Vec3 } from './vector.ts';

/*
 * A scan that lies elsewhere is another scan to everything that measures: its motion is part of its name, as its unit is. So no kind of
 * measurement has to know of motions, and a result is kept for the place it was measured at.
 */

const MARK = '@';
/** Nine numbers of the rotation and three of the shift. */
const NUMBERS = 12;

/** Name of a scan where a motion puts it; numbers as their shortest exact decimals. */
export function placedScan(scan: string, { rotation, translation }: Motion): string {
  return `${scan}${MARK}${[...rotation.flat(), ...translation].join(',')}`;
}

/** Name of the scan as it was uploaded. */
export function uploadedScan(name: string): string {
  const at = name.lastIndexOf(MARK);
  return at < 0 ? name : name.slice(0, at);
}

/** The motion in a name; undefined for a scan that lies where its file says, and for a name that says it badly. */
export function motionOf(name: string): Motion | undefined {
  const at = name.lastIndexOf(MARK);
  const numbers =
    at < 0
      ? []
      : name
          .slice(at + 1)
          .split(',')
          .map(Number);
  if (numbers.length !== NUMBERS || !numbers.every(Number.isFinite)) return undefined;
  const three = (from: number): Vec3 => [numbers[from] ?? 0, numbers[from + 1] ?? 0, numbers[from + 2] ?? 0];
  return { rotation: [three(0), three(3), three(6)], translation: three(9) };
}
