import { formatSi } from '../units/format.ts';
import { at, derive, type Known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Outside radius of every runner, metres. */
export function runnerOuterRadius(context: FactContext): Known<number> {
  return derive({ diameter: outsideDiameter(context) }, ({ diameter }) => diameter / 2);
}

/** Inside diameter of every runner, metres; inconsistent when the wall fills the tube. */
export function runnerBore(context: FactContext): Known<number> {
  const wall = at<number>('tube.wall', context.spec.tube.wall);
  return derive({ diameter: outsideDiameter(context), wall }, (tube): number | Known<number> => {
    const bore = tube.diameter - 2 * tube.wall;
    if (bore > 0) return bore;
    const detail = `expected a wall under half the outside diameter (${formatSi('length', tube.diameter)}), got ${formatSi('length', tube.wall)}`;
    return unknown({ reason: 'inconsistent', detail, paths: ['tube.outsideDiameter', 'tube.wall'] });
  });
}

function outsideDiameter(context: FactContext): Known<number> {
  return at<number>('tube.outsideDiameter', context.spec.tube.outsideDiameter);
}
