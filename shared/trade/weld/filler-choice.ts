import { type Known, known } from '../../units/known.ts';
import { type FillerAnswer, fillerRows, type WeldMetal } from '../data/fillers.ts';
import { contradiction } from '../limits.ts';

/** Filler for a pair of metals in either order; "do not weld" is an answer, a pair the table does not hold is unknown. Source: {@link fillerRows}. */
export function fillerChoice(a: WeldMetal, b: WeldMetal): Known<FillerAnswer> {
  const row = fillerRows.find(
    (each) => (each.a.includes(a) && each.b.includes(b)) || (each.a.includes(b) && each.b.includes(a)),
  );
  return row
    ? known(row.answer)
    : contradiction(`filler: expected a pair of the table, got ${a} with ${b}: ask a welding engineer`);
}
