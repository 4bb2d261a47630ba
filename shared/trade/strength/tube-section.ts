import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** Section of a round tube, SI. */
export interface TubeSection {
  /** m2. */
  readonly area: number;
  /** Second moment of area about a diameter, m4. */
  readonly secondMoment: number;
  /** m3. */
  readonly sectionModulus: number;
  /** kg/m. */
  readonly massPerLength: number;
}
/** Outside diameter and wall in m, density in kg/m3. */
export interface TubeStock {
  readonly outsideDiameter: number;
  readonly wall: number;
  readonly density: number;
}

const limits: Readonly<Record<keyof TubeStock, Limit>> = {
  outsideDiameter: ['length', 5e-3, 0.5],
  wall: ['length', 2e-4, 0.05],
  density: ['density', 500, 2e4],
};

/** Section properties of a round tube; a wall past the axis is inconsistent. Source: beam theory (memory). */
export function tubeSection(stock: TubeStock): Known<TubeSection> {
  const refused = outsideLimits('tube-section', stock, limits);
  if (refused) return refused;
  const { outsideDiameter, wall, density } = stock;
  const bore = outsideDiameter - 2 * wall;
  if (bore < 0)
    return contradiction(`tube-section: expected a wall of at most half the diameter ${outsideDiameter}, got ${wall}`);
  const area = (Math.PI * (outsideDiameter ** 2 - bore ** 2)) / 4;
  const secondMoment = (Math.PI * (outsideDiameter ** 4 - bore ** 4)) / 64;
  const sectionModulus = (2 * secondMoment) / outsideDiameter;
  return known({ area, secondMoment, sectionModulus, massPerLength: density * area });
}
