import type { StudHole } from '../spec/spec.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Distance of a stud hole from the datum hole, metres; null for the datum hole itself. */
export function holeDistance(context: FactContext, hole: StudHole): Known<number | null> {
  return derive({ datum: datumHole(context) }, ({ datum }): Known<number | null> => {
    if (datum.id === hole.id) return known(null);
    const here = place(hole);
    const there = place(datum);
    return derive({ here, there }, (v) => Math.hypot(v.here.x - v.there.x, v.here.z - v.there.z));
  });
}

/** The close-fitting hole growth is measured from, found by its name. */
function datumHole(context: FactContext): Known<StudHole> {
  return derive({ name: at('flange.datumHole', context.spec.flange.datumHole) }, ({ name }): Known<StudHole> => {
    const named = context.spec.holes.filter((hole) => hole.name === name);
    const [datum] = named;
    if (datum && named.length === 1) return known(datum);
    const names = context.spec.holes.map((hole) => hole.name ?? hole.id).join(', ');
    const detail = `expected the name of one stud hole (${names}) as datum hole, got "${name}"`;
    return unknown({ reason: 'inconsistent', detail, paths: ['flange.datumHole'] });
  });
}

function place(hole: StudHole) {
  return derive(
    { x: at<number>(`holes.${hole.id}.x`, hole.x), z: at<number>(`holes.${hole.id}.z`, hole.z) },
    ({ x, z }) => known({ x, z }),
  );
}
