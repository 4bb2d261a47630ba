import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** A merge collector of equal tubes on a ring; m and rad. */
export interface Collector {
  readonly tubes: number;
  /** alpha, half the included angle. */
  readonly halfAngle: number;
  /** Radius of a tube: outer for templates, inner for flow areas. */
  readonly tubeRadius: number;
  /** Outlet diameter on the same side of the wall. */
  readonly outletDiameter: number;
}
/** Sizes in m. */
export interface CollectorSize {
  /** Ring radius of the tube centres at the inlet face. */
  readonly pitchRadius: number;
  /** Over all tubes at the inlet face. */
  readonly bundleDiameter: number;
  /** Inlet face to outlet; about 1 % short because the tube section is taken as a circle. */
  readonly length: number;
}

const limits: Readonly<Record<keyof Collector, Limit>> = {
  tubes: ['count', 2, 6],
  halfAngle: ['angle', 0.03, 0.8],
  tubeRadius: ['length', 1e-3, 0.5],
  outletDiameter: ['length', 1e-3, 1],
};

/** Size of a collector. A ring of six leaves a hole of a tube in the middle. Source: geometry (own). */
export function collectorSize(collector: Collector): Known<CollectorSize> {
  const refused = outsideLimits('collector', collector, limits);
  if (refused) return refused;
  const { tubes, halfAngle, tubeRadius, outletDiameter } = collector;
  if (!Number.isInteger(tubes)) return contradiction(`collector: expected a whole number of tubes, got ${tubes}`);
  const pitchRadius = tubeRadius / Math.sin(Math.PI / tubes);
  const reach = pitchRadius + tubeRadius;
  if (outletDiameter / 2 >= reach)
    return contradiction(
      `collector: expected an outlet smaller than the bundle (${2 * reach} m), got ${outletDiameter} m`,
    );
  const length = (reach - outletDiameter / 2) / Math.tan(halfAngle);
  return known({ pitchRadius, bundleDiameter: 2 * reach, length });
}

/**
 * Trim of one tube where it meets its neighbours: distance along its axis from the inlet face, m, at `phi` round it (rad; 0 outside,
 * pi faces the collector axis). Source: own derivation, the points lie on the dividing plane.
 */
export function collectorTrim(collector: Collector, phi: number): Known<number> {
  const size = collectorSize(collector);
  if (!size.known) return size;
  if (!Number.isFinite(phi)) return contradiction(`collector: expected a finite angle round the tube, got ${phi}`);
  const { tubes, halfAngle, tubeRadius: r } = collector;
  const side = (r * Math.abs(Math.sin(phi))) / Math.tan(Math.PI / tubes);
  return known((size.value.pitchRadius + r * Math.cos(phi) * Math.cos(halfAngle) - side) / Math.sin(halfAngle));
}

/**
 * Open area, m2, of `tubes` bores of radius `tubeRadius` (m) whose centres lie on a ring of radius `ring` (m, up to the pitch radius).
 * A point belongs to the tube whose sector it lies in, so a sector of one tube is all there is to count.
 */
export function collectorArea(tubes: number, tubeRadius: number, ring: number): Known<number> {
  const inputs = { tubes, tubeRadius, ring };
  const refused = outsideLimits('collector-area', inputs, {
    ...areaLimits,
    ring: ['length', 0, 2 * tubeRadius * (1 + 1e-9)],
  });
  if (refused) return refused;
  if (!Number.isInteger(tubes)) return contradiction(`collector-area: expected a whole number of tubes, got ${tubes}`);
  const sector = Math.PI / tubes;
  if (ring > tubeRadius) {
    const edge = Math.min(ring * Math.sin(sector), tubeRadius);
    const half = edge * Math.sqrt(tubeRadius ** 2 - edge ** 2) + tubeRadius ** 2 * Math.asin(edge / tubeRadius);
    return known(2 * tubes * half);
  }
  const reach = (phi: number) =>
    0.5 * (ring * Math.cos(phi) + Math.sqrt(Math.max(0, tubeRadius ** 2 - (ring * Math.sin(phi)) ** 2))) ** 2;
  return known(tubes * simpson(reach, -sector, sector));
}

const areaLimits: Readonly<Record<'tubes' | 'tubeRadius', Limit>> = {
  tubes: ['count', 2, 6],
  tubeRadius: ['length', 1e-3, 0.5],
};

/** Flow volume between inlet face and outlet, m3 (tube radius and outlet of the bores). */
export function collectorVolume(collector: Collector): Known<number> {
  const size = collectorSize(collector);
  if (!size.known) return size;
  const { tubes, tubeRadius, halfAngle } = collector;
  const area = (z: number) => {
    const at = collectorArea(tubes, tubeRadius, Math.max(0, size.value.pitchRadius - z * Math.tan(halfAngle)));
    return at.known ? at.value : Number.NaN;
  };
  const volume = simpson(area, 0, size.value.length);
  return Number.isFinite(volume)
    ? known(volume)
    : contradiction('collector: expected an area at each section, got none');
}

function simpson(f: (x: number) => number, from: number, to: number): number {
  const steps = 400;
  const h = (to - from) / steps;
  let sum = f(from) + f(to);
  for (let i = 1; i < steps; i++) sum += (i % 2 === 1 ? 4 : 2) * f(from + i * h);
  return (sum * h) / 3;
}
