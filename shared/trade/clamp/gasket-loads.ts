import { type Known, known } from '../../units/known.ts';
import { contradiction, type Limit, outsideLimits } from '../limits.ts';

/** A ring gasket under pressure. */
export interface RingGasket {
  /** m. */
  readonly insideDiameter: number;
  /** m. */
  readonly outsideDiameter: number;
  /** m, gasket factor. */
  readonly factor: number;
  /** y, seating stress, Pa. */
  readonly seatingStress: number;
  /** Gauge, Pa. */
  readonly pressure: number;
}
/** Effective width b and reaction diameter G in m; loads in N. */
export interface GasketLoads {
  readonly width: number;
  readonly diameter: number;
  /** H, pressure end force. */
  readonly endForce: number;
  /** H_p, to keep it tight. */
  readonly contactForce: number;
  /** W_m1, running. */
  readonly running: number;
  /** W_m2, seating. */
  readonly seating: number;
}

const limits: Readonly<Record<keyof RingGasket, Limit>> = {
  insideDiameter: ['length', 5e-3, 1],
  outsideDiameter: ['length', 5e-3, 1],
  factor: ['ratio', 0, 10],
  seatingStress: ['stress', 0, 3e8],
  pressure: ['pressure', 0, 1e7],
};

/** Effective seating width, m, of a basic width b0 (m, 0 to 0.1): b0 up to 6 mm, then 2.5 sqrt(b0) in mm. Source: ASME VIII-1 appendix 2 (memory). */
export function effectiveGasketWidth(basicWidth: number): Known<number> {
  const refused = outsideLimits('effective-gasket-width', { basicWidth }, { basicWidth: ['length', 0, 0.1] });
  if (refused) return refused;
  return known(basicWidth <= 6e-3 ? basicWidth : 2.5e-3 * Math.sqrt(basicWidth * 1e3));
}

/**
 * Bolt loads of a flat ring gasket. m and y are design numbers, not an assembly stress, and were made for pressure vessels:
 * an exhaust joint is limited by seating and heat. Source: ASME BPVC VIII-1 appendix 2 (loads and widths from memory).
 */
export function gasketLoads(gasket: RingGasket): Known<GasketLoads> {
  const refused = outsideLimits('gasket-loads', gasket, limits);
  if (refused) return refused;
  const { insideDiameter, outsideDiameter, factor, seatingStress, pressure } = gasket;
  if (outsideDiameter <= insideDiameter)
    return contradiction(
      `gasket-loads: expected an outside diameter above ${insideDiameter} m, got ${outsideDiameter} m`,
    );
  const basic = (outsideDiameter - insideDiameter) / 4;
  const width = effectiveGasketWidth(basic);
  if (!width.known) return width;
  const b = width.value;
  const diameter = basic <= 6e-3 ? (insideDiameter + outsideDiameter) / 2 : outsideDiameter - 2 * b;
  const endForce = (Math.PI / 4) * diameter ** 2 * pressure;
  const contactForce = 2 * b * Math.PI * diameter * factor * pressure;
  const seating = Math.PI * b * diameter * seatingStress;
  return known({ width: b, diameter, endForce, contactForce, running: endForce + contactForce, seating });
}
