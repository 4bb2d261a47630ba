import type { Element } from '../spec/spec.ts';
import { flatness } from '../trade/metrology/plane-fit.ts';
import type { Vec } from '../trade/metrology/vector.ts';
import { at, derive, type Known } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** How flat a face was found, metres, over how many points. */
export interface MeasuredFace {
  readonly flatness: number;
  readonly points: number;
}

/** Flatness of a face: of its readings about their least-squares plane when there are any, else as typed. */
export function measuredFace({ spec, memo }: FactContext, face: Element<'faces'>): Known<MeasuredFace> {
  const readings = spec.facePoints.filter((row) => face.name !== undefined && row.face === face.name);
  if (readings.length === 0)
    return derive(
      {
        flatness: at<number>(`faces.${face.id}.flatness`, face.flatness),
        points: at<number>(`faces.${face.id}.points`, face.points),
      },
      (typed) => typed,
    );
  return memo(`measured-face/${face.id}`, [spec.facePoints, face.name], () => {
    const places = Object.fromEntries(readings.map((row) => [row.id, placeOf(row)]));
    return derive(places, (all): Known<MeasuredFace> => {
      const points = Object.values(all);
      return derive({ flatness: flatness(points) }, (found) => ({ ...found, points: points.length }));
    });
  });
}

function placeOf(row: Element<'facePoints'>): Known<Vec> {
  const path = `facePoints.${row.id}`;
  return derive(
    {
      x: at<number>(`${path}.x`, row.x),
      y: at<number>(`${path}.y`, row.y),
      height: at<number>(`${path}.height`, row.height),
    },
    ({ x, y, height }): Vec => [x, y, height],
  );
}
