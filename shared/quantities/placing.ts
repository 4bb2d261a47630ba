import type { ClearanceResult, TubeShape } from '../geometry/measurement.ts';
import { type Motion, movedBy, undoing } from '../geometry/motion.ts';
import { cutScan, placedScan, type ScanBox } from '../geometry/placedScan.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { BayComponent } from '../spec/spec.ts';
import { formatSi } from '../units/format.ts';
import { derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { datumFit } from './registration.ts';
import { scanName } from './scanName.ts';

const asUploaded: Known<null> = known(null);
const whole: Known<null> = known(null);

/** The motion that brings a component's scan onto the car; null for one that lies as it was uploaded. Without datum points that fix it: inconsistent. */
export function placing(context: FactContext, component: BayComponent): Known<Motion | null> {
  return component.placed === 'by-datums' ? datumFit(context) : asUploaded;
}

/** The part of its scan that a component is, in the frame of the car; null for all of it. Sides without a limit reach on for ever. A box turned inside out: inconsistent. */
export function componentBox(component: BayComponent): Known<ScanBox | null> {
  const { fromX, fromY, fromZ, toX, toY, toZ } = component;
  if ([fromX, fromY, fromZ, toX, toY, toZ].every((side) => side === undefined)) return whole;
  const [low, high] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const least: Vec3 = [fromX ?? low, fromY ?? low, fromZ ?? low];
  const greatest: Vec3 = [toX ?? high, toY ?? high, toZ ?? high];
  const turned = [0, 1, 2].find((k) => (least[k] ?? 0) >= (greatest[k] ?? 0));
  if (turned === undefined) return known({ least, greatest });
  const axis = 'XYZ'[turned] ?? '';
  const sides = `${formatSi('length', least[turned] ?? 0)} to ${formatSi('length', greatest[turned] ?? 0)}`;
  const paths = [`components.${component.id}.from${axis}`, `components.${component.id}.to${axis}`];
  return unknown({
    reason: 'inconsistent',
    detail: `expected a box of the scan that ends beyond where it begins, got ${axis} from ${sides}`,
    paths,
  });
}

/** Name of what of a scan a component is, where it lies on the car: for measurements that look at several things at once. */
export function scanOnCar(context: FactContext, component: BayComponent): Known<string> {
  const motion = placing(context, component);
  return context.memo(`scan-on-car/${component.id}`, [motion, component], () =>
    derive({ name: scanName(component), motion, box: componentBox(component) }, (v) => {
      const placed = v.motion ? placedScan(v.name, v.motion) : v.name;
      return v.box ? cutScan(placed, v.box) : placed;
    }),
  );
}

/** A component's scan as runners are measured against it. */
export interface ScanFrame {
  readonly scan: string;
  /** From the frame of the scan to the car; null when they are one. */
  readonly motion: Motion | null;
}

/** The frame a component is measured in: that of its scan, or, for a part of a scan, the car, which its box is given in. */
export function scanFrame(context: FactContext, component: BayComponent): Known<ScanFrame> {
  const box = componentBox(component);
  const motion = box.known && box.value === null ? placing(context, component) : asUploaded;
  const name = box.known && box.value === null ? scanName(component) : scanOnCar(context, component);
  return context.memo(`scan-frame/${component.id}`, [motion, component, name.known ? name.value : name.why], () =>
    derive({ scan: name, motion }, (v) => v),
  );
}

/**
 * Tubes in the frame of a component's scan. A rigid motion changes no distance, and a few nodes are moved faster and more exactly than some
 * million points: so the header goes to the scan, and the places found come back to the car.
 */
export function tubesAtScan(tubes: readonly TubeShape[], motion: Motion | null): readonly TubeShape[] {
  if (!motion) return tubes;
  const back = undoing(motion);
  return tubes.map(({ nodes, ...tube }) => {
    const moved: number[] = [];
    for (let i = 0; i + 3 < nodes.length; i += 4) {
      const [x = Number.NaN, y = Number.NaN, z = Number.NaN, radius = Number.NaN] = nodes.slice(i, i + 4);
      moved.push(...movedBy(back, [x, y, z]), radius);
    }
    return { ...tube, nodes: moved };
  });
}

/** What was measured in the frame of the scan, with its places on the car. */
export function gapOnCar(gap: ClearanceResult, motion: Motion | null): ClearanceResult {
  if (!motion) return gap;
  const { point, foot, onTube } = gap;
  return { ...gap, point: movedBy(motion, point), foot: movedBy(motion, foot), onTube: movedBy(motion, onTube) };
}
