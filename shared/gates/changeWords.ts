import { parsePath } from '../spec/path.ts';
import type { Spec } from '../spec/spec.ts';
import { checkStored, checkTick, describeValue } from '../spec/validate.ts';
import { factWords } from './factWords.ts';

/** What stood at a path, as a person reads it: in the display unit, a row as there or not, a tick with its note. Never throws. */
export function storedWords(path: string, stored: unknown, spec: Spec): string {
  const parsed = parsePath(path);
  const row = parsed?.kind === 'element' || parsed?.kind === 'node';
  if (stored === undefined) return row ? 'not there' : parsed?.kind === 'tick' ? 'untouched' : 'empty';
  if (row) return typeof stored === 'number' ? `there, place ${Number(stored.toPrecision(6))}` : 'there';
  if (parsed?.kind === 'tick') return tickWords(stored);
  if (!parsed || !('field' in parsed)) return describeValue(stored);
  const checked = checkStored(parsed.field, stored);
  if (!checked.ok) return `${describeValue(stored)} (cannot be)`;
  const { value } = checked;
  return typeof value === 'object' ? value.join('-') : factWords(path, value, spec);
}

function tickWords(stored: unknown): string {
  const tick = checkTick(stored);
  if (!tick) return describeValue(stored);
  return `${tick.done ? 'ticked' : 'not ticked'}${tick.note === '' ? '' : `, note: ${tick.note}`}`;
}
