import type { BayComponent } from '../spec/spec.ts';
import { at, derive, type Known } from '../units/known.ts';

/** Content hash and unit together: the same file read in another unit is another scan. */
export function scanName(component: BayComponent): Known<string> {
  const path = `components.${component.id}`;
  return derive(
    { scan: at(`${path}.scan`, component.scan), unit: at(`${path}.scanUnit`, component.scanUnit) },
    ({ scan, unit }) => `${scan}-${unit}`,
  );
}
