import type { Motion } from './motion.ts';
import type { Vec3 } from './vector.ts';

/*
 * A scan that lies elsewhere, or of which only a part counts, is another scan to everything that measures: its motion and its box are part
 * of its name, as its unit is. So no kind of measurement has to know of either, and a result is kept for what it was measured on.
 */

/** A number as it is written in a name: the shortest exact decimal. */
const number = String.raw`-?(?:\d+(?:\.\d+)?(?:e[+-]?\d+)?|Infinity)`;
const list = (count: number): string => `${number}(?:,${number}){${count - 1}}`;
/** Nine numbers of a rotation and three of a shift; then six of a box. */
const SUFFIX = new RegExp(`(?:@(${list(12)}))?(?:#(${list(6)}))?$`);

/** A part of space, metres: everything between the two corners, which may be infinitely far. */
export interface ScanBox {
  readonly least: Vec3;
  readonly greatest: Vec3;
}

/** Name of a scan where a motion puts it. The scan must be named as uploaded. */
export function placedScan(scan: string, { rotation, translation }: Motion): string {
  return `${scan}@${[...rotation.flat(), ...translation].join(',')}`;
}

/** Name of the part of a scan that lies in a box, where the scan lies by its name. */
export function cutScan(scan: string, { least, greatest }: ScanBox): string {
  return `${scan}#${[...least, ...greatest].join(',')}`;
}

/** Name of the scan as it was uploaded. */
export function uploadedScan(name: string): string {
  return name.replace(SUFFIX, '');
}

/** The motion in a name; undefined for a scan that lies where its file says. */
export function motionOf(name: string): Motion | undefined {
  const numbers = SUFFIX.exec(name)?.[1]?.split(',').map(Number);
  if (!numbers) return undefined;
  return { rotation: [three(numbers, 0), three(numbers, 3), three(numbers, 6)], translation: three(numbers, 9) };
}

/** The box in a name; undefined for a whole scan. */
export function boxOf(name: string): ScanBox | undefined {
  const numbers = SUFFIX.exec(name)?.[2]?.split(',').map(Number);
  return numbers && { least: three(numbers, 0), greatest: three(numbers, 3) };
}

const three = (numbers: readonly number[], from: number): Vec3 => [
  numbers[from] ?? 0,
  numbers[from + 1] ?? 0,
  numbers[from + 2] ?? 0,
];
