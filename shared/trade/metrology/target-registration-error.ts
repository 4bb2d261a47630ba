import { type Known, known } from '../../units/known.ts';
import { inconsistent, type Limits, outsideLimits } from '../data/validity.ts';
import { principalAxes, signed } from './plane-fit.ts';
import { along, centroid, dot, firstBad, minus, norm, type Vec } from './vector.ts';

const limits: Limits<'localisationError'> = { localisationError: { range: [0, 0.01], unit: 'length' } };

/**
 * Expected RMS error at `target` of a rigid fit through `fiducials`, m, when each is located to `localisationError` RMS (m). It grows
 * away from the fiducials: FLE^2/N (1 + sum d_k^2/f_k^2 / 3) over the principal axes. At least three points not on a line, else
 * inconsistent. Source: Fitzpatrick, West and Maurer 1998 (from memory).
 */
export function targetRegistrationError(
  fiducials: readonly Vec[],
  target: Vec,
  localisationError: number,
): Known<number> {
  const outside = outsideLimits('target registration error', limits, { localisationError });
  if (outside) return outside;
  if (fiducials.length < 3 || firstBad([...fiducials, target]) >= 0)
    return inconsistent(`target registration error: expected at least 3 finite points, got ${fiducials.length}`);
  const from = minus(target, centroid(fiducials));
  const axes = principalAxes(fiducials);
  const total = axes.reduce((sum, { value }) => sum + value, 0);
  let spread = 0;
  for (const { value, vector } of axes) {
    // Squared distances from an axis: the whole spread less the part along it.
    const fiducialSquare = (total - value) / fiducials.length;
    const axis = signed(vector);
    const away = norm(along(from, -dot(from, axis), axis));
    if (!(fiducialSquare > 1e-12 * (total / fiducials.length)))
      return inconsistent('target registration error: expected points that fix a rotation, got points on one line');
    spread += away ** 2 / fiducialSquare;
  }
  return known(localisationError * Math.sqrt((1 + spread / 3) / fiducials.length));
}
