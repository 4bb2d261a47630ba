import { child, numberIn, type XmlElement } from './e57-xml.ts';
import { refuse } from './problem.ts';

/** Where a scan of an E57 file stands: a rotation, row by row, then a shift in metres. */
export interface E57Pose {
  readonly rotation: readonly [number, number, number, number, number, number, number, number, number];
  readonly translation: readonly [number, number, number];
}

/** The pose of a scan: quaternion w, x, y, z and a shift. A scan without one stands as it is. */
export function poseOf(element: XmlElement | undefined): E57Pose {
  const turn = child(element, 'rotation');
  const shift = child(element, 'translation');
  const q = (name: string, missing: number): number => numberIn(child(turn, name), missing);
  const [w0, x0, y0, z0] = [q('w', turn ? 0 : 1), q('x', 0), q('y', 0), q('z', 0)];
  const length = Math.hypot(w0, x0, y0, z0);
  // Written with few digits it is a little off 1; far off it is no rotation, and applying it would scale the scan.
  if (!(Math.abs(length - 1) < 1e-3))
    refuse(
      'bad-header',
      `Expected a quaternion of length 1 as the rotation of an E57 scan, got ${length.toPrecision(6)}.`,
    );
  const [w, x, y, z] = [w0 / length, x0 / length, y0 / length, z0 / length];
  const t = (name: string): number => numberIn(child(shift, name), 0);
  return {
    rotation: [
      1 - 2 * (y * y + z * z),
      2 * (x * y - w * z),
      2 * (x * z + w * y),
      2 * (x * y + w * z),
      1 - 2 * (x * x + z * z),
      2 * (y * z - w * x),
      2 * (x * z - w * y),
      2 * (y * z + w * x),
      1 - 2 * (x * x + y * y),
    ],
    translation: [t('x'), t('y'), t('z')],
  };
}
