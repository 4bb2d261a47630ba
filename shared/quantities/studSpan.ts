import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';

interface Place {
  readonly x: number;
  readonly z: number;
}

/** Longest distance along the flange from one stud to the next on the same side of the ports, metres. */
export function longestStudSpan(context: FactContext): Known<number> {
  const { holes } = context.spec;
  return context.memo('stud-span', [holes], () => {
    const places = Object.fromEntries(
      holes.map((hole) => {
        const path = `holes.${hole.id}`;
        const cells = { x: at<number>(`${path}.x`, hole.x), z: at<number>(`${path}.z`, hole.z) };
        return [hole.id, derive(cells, (v): Known<Place> => known({ x: v.x, z: v.z }))];
      }),
    );
    return derive(places, (found) => longest(Object.values(found)));
  });
}

/** Studs this little below the middle still count as level with it: rounding must not part a single row, m. */
const level = 1e-6;

function longest(places: readonly Place[]): number | Known<number> {
  const middle = places.reduce((sum, { z }) => sum + z, 0) / places.length;
  const spans = [places.filter(({ z }) => z >= middle - level), places.filter(({ z }) => z < middle - level)].flatMap(
    spansOf,
  );
  if (spans.length > 0) return Math.max(...spans);
  const detail = `expected at least 2 stud holes on one side of the ports, got ${places.length} altogether`;
  return unknown({ reason: 'inconsistent', detail, paths: ['holes'] });
}

/** Distances between neighbours of one side, along the flange. */
function spansOf(side: readonly Place[]): readonly number[] {
  const along = side.map(({ x }) => x).sort((a, b) => a - b);
  return along.slice(1).map((x, i) => x - (along[i] ?? x));
}
