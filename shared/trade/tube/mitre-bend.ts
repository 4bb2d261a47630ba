import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** A bend made of wedges. SI, rad. */
export interface MitreBend {
  readonly angle: number;
  /** Centreline radius, m. */
  readonly radius: number;
  /** m. */
  readonly outsideDiameter: number;
  /**
   * A: `count` joints, half a wedge at each end belongs to the straights. B: `count` full wedges between square-cut tubes, one weld more,
   * whose end joints meet circle to ellipse.
   */
  readonly convention: 'A' | 'B';
  readonly count: number;
}
/** Cut list of a mitred bend; lengths in m, angles in rad. */
export interface MitreCuts {
  /** Change of direction at each full joint. */
  readonly deflection: number;
  /** From square. */
  readonly sawAngle: number;
  readonly fullWedges: number;
  readonly welds: number;
  /** Length of a full wedge on the centreline, on the outside and on the inside. */
  readonly centre: number;
  readonly outer: number;
  readonly inner: number;
  /** Polygon of the centreline over the true arc. */
  readonly lengthRatio: number;
  /** Step where an end joint meets a square-cut tube (convention B). */
  readonly endMismatch: number;
}

const limits: Readonly<Record<'angle' | 'radius' | 'outsideDiameter' | 'count', Limit>> = {
  angle: ['angle', 0.01, Math.PI],
  radius: ['length', 1e-3, 5],
  outsideDiameter: ['length', 1e-3, 1],
  count: ['count', 1, 60],
};

/** Cuts of a mitred ("pie cut") bend. The inside of a wedge must exist, else inconsistent. Source: geometry (own). */
export function mitreBend(bend: MitreBend): Known<MitreCuts> {
  const refused = outsideLimits('mitre-bend', bend, limits);
  if (refused) return refused;
  const { angle, radius, outsideDiameter, convention, count } = bend;
  if (!Number.isInteger(count)) return contradiction(`mitre-bend: expected a whole number of cuts, got ${count}`);
  if (radius <= outsideDiameter / 2)
    return contradiction(
      `mitre-bend: expected a radius above half the diameter (${outsideDiameter / 2} m), got ${radius} m`,
    );
  const deflection = angle / count;
  const half = Math.tan(deflection / 2);
  return known({
    deflection,
    sawAngle: deflection / 2,
    fullWedges: convention === 'A' ? count - 1 : count,
    welds: convention === 'A' ? count : count + 1,
    centre: 2 * radius * half,
    outer: 2 * (radius + outsideDiameter / 2) * half,
    inner: 2 * (radius - outsideDiameter / 2) * half,
    lengthRatio: (2 * count * half) / angle,
    endMismatch: convention === 'A' ? 0 : (outsideDiameter / 2) * (1 / Math.cos(deflection / 2) - 1),
  });
}

/**
 * Wrap-around template of a wedge: `points` rows of [distance round the tube, height above the wedge middle], m, from the outside of the bend
 * (0) once round. `points` 3 to 3600.
 */
export function mitreTemplate(bend: MitreBend, points: number): Known<readonly (readonly [number, number])[]> {
  const cuts = mitreBend(bend);
  if (!cuts.known) return cuts;
  const refused = outsideLimits('mitre-template', { points }, { points: ['count', 3, 3600] });
  if (refused) return refused;
  const half = Math.tan(cuts.value.deflection / 2);
  const round = bend.outsideDiameter / 2;
  const rows = Array.from({ length: Math.floor(points) }, (_, i): readonly [number, number] => {
    const at = (2 * Math.PI * i) / Math.floor(points);
    return [round * at, (bend.radius + round * Math.cos(at)) * half];
  });
  return known(rows);
}
