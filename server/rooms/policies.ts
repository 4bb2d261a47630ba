import { MARKUP_ROOT, refuseMarkup } from '../../shared/markup/markup.ts';
import type { DocumentName } from '../../shared/protocol/sync.ts';
import { parsePath } from '../../shared/spec/path.ts';
import { SPEC_ROOT } from '../../shared/spec/reader.ts';
import { checkTick, storedNumber, typedText } from '../../shared/spec/validate.ts';
import type { EntryChange, IntakePolicy } from '../sync/intake.ts';

const TEXT_LIMIT = 1000;
/** Longest entry as JSON: above what any command writes, and too little to fill a document with. */
const ENTRY_LIMIT = 16_000;
/** Longest text kept beside a number: the one it was typed as. */
const TYPED_LIMIT = 100;

function withinSize(policy: IntakePolicy): IntakePolicy {
  return {
    root: policy.root,
    allow: (change, account) =>
      change.after !== undefined && (JSON.stringify(change.after) ?? '').length > ENTRY_LIMIT
        ? `"${change.key}": expected at most ${ENTRY_LIMIT} characters of JSON`
        : policy.allow(change, account),
  };
}

/** A number alone, or with the text it was typed as and nothing else. */
function isStoredNumber(value: unknown): boolean {
  const n = storedNumber(value);
  if (n === null || !Number.isFinite(n)) return false;
  if (typeof value !== 'object' || value === null) return true;
  const text = typedText(value);
  return text !== null && text.length <= TYPED_LIMIT && Object.keys(value).length === 2;
}

function refuseSpec({ key, after }: EntryChange, account: string): string | null {
  const path = parsePath(key);
  if (!path) return `"${key}" names nothing in a spec`;
  if (after === undefined) return null;
  if (path.kind === 'tick') {
    const tick = checkTick(after);
    if (!tick || tick.note.length > TEXT_LIMIT) return `"${key}": expected a checklist tick`;
    return tick.by === account ? null : `"${key}": a tick must carry the account that sets it`;
  }
  if (path.kind === 'element' || path.kind === 'node') {
    return typeof after === 'number' && Number.isFinite(after)
      ? null
      : `"${key}": expected its place in the order, a finite number`;
  }
  if (typeof after === 'string')
    return after.length <= TEXT_LIMIT ? null : `"${key}": expected at most ${TEXT_LIMIT} characters`;
  return isStoredNumber(after) ? null : `"${key}": expected a finite number or text`;
}

/** What each document of a project takes. A value outside its field's bounds is taken but reads as missing: the spec is validated on read. */
export const policies: Readonly<Record<DocumentName, IntakePolicy>> = {
  spec: withinSize({ root: SPEC_ROOT, allow: refuseSpec }),
  markup: withinSize({ root: MARKUP_ROOT, allow: refuseMarkup }),
};
