import { at, derive, type Known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Turbo mass that falls to each of the runner roots that carry it, kg; inconsistent when more roots are said to share it than there are runners. */
export function massPerRoot(context: FactContext): Known<number> {
  const { turbo, runners } = context.spec;
  const inputs = {
    mass: at<number>('turbo.mass', turbo.mass),
    sharing: at<number>('turbo.sharingRunners', turbo.sharingRunners),
  };
  return derive(inputs, ({ mass, sharing }): number | Known<number> => {
    if (sharing <= runners.length) return mass / sharing;
    const detail = `expected at most the ${runners.length} runners there are to share the turbo, got ${sharing}`;
    return unknown({ reason: 'inconsistent', detail, paths: ['turbo.sharingRunners'] });
  });
}
