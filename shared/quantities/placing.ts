import type { ClearanceResult, TubeShape } from '../geometry/measurement.ts';
import { type Motion, movedBy, undoing } from '../geometry/motion.ts';
import { placedScan } from '../geometry/placedScan.ts';
import type { BayComponent } from '../spec/spec.ts';
import { derive, type Known, known } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { datumFit } from './registration.ts';
import { scanName } from './scanName.ts';

const asUploaded: Known<null> = known(null);

/** The motion that brings a component's scan onto the car; null for one that lies as it was uploaded. Without datum points that fix it: inconsistent. */
export function placing(context: FactContext, component: BayComponent): Known<Motion | null> {
  return component.placed === 'by-datums' ? datumFit(context) : asUploaded;
}

/** Name of a component's scan where it lies on the car, for measurements that look at several things at once. */
export function scanOnCar(context: FactContext, component: BayComponent): Known<string> {
  const motion = placing(context, component);
  return context.memo(`scan-on-car/${component.id}`, [motion, component.scan, component.scanUnit], () =>
    derive({ name: scanName(component), motion }, (v) => (v.motion ? placedScan(v.name, v.motion) : v.name)),
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
