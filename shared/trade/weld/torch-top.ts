import { type Known, known } from '../../units/known.ts';
import { outsideLimits } from '../limits.ts';

/** Sideways offset and height of the top edge of a tilted torch head, m. */
export interface TorchTop {
  readonly offset: number;
  readonly height: number;
}

/** Sweep of the top of a head of `diameter` and `length` (m, tungsten tip to cap top) tilted by `tilt` (rad from the joint normal). Source: own geometry. */
export function torchTop(length: number, diameter: number, tilt: number): Known<TorchTop> {
  const refused = outsideLimits(
    'torch-top',
    { length, diameter, tilt },
    {
      length: ['length', 0.01, 0.5],
      diameter: ['length', 5e-3, 0.1],
      tilt: ['angle', 0, 1.3],
    },
  );
  if (refused) return refused;
  const [sin, cos] = [Math.sin(tilt), Math.cos(tilt)];
  return known({ offset: length * sin + (diameter / 2) * cos, height: length * cos + (diameter / 2) * sin });
}
