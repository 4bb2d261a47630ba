/** Letters of drawing revisions: those that can be taken for a number or for another letter are left out (ASME Y14.35, from memory). */
const LETTERS = 'ABCDEFGHJKLMNPRTUVWY';

/** What the n-th revision is called, n from 1: A to Y without I, O, Q, S, X, Z, then AA, AB and so on. Other numbers give `?`. */
export function revisionLetter(n: number): string {
  if (!Number.isSafeInteger(n) || n < 1) return '?';
  let out = '';
  for (let rest = n; rest > 0; rest = Math.floor((rest - 1) / LETTERS.length))
    out = `${LETTERS[(rest - 1) % LETTERS.length]}${out}`;
  return out;
}
