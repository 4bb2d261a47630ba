import { type Request, Router } from 'express';
import { type SpecEdit, specEditSchema } from '../../shared/protocol/edits.ts';
import { type ParsedPath, parsePath } from '../../shared/spec/path.ts';
import { checkStored, checkTyped, type StoredValue } from '../../shared/spec/validate.ts';
import type { Scripted } from '../rooms/scripted.ts';
import { memberOf } from './access.ts';
import { onceOnly } from './idempotency.ts';
import { bodyOf } from './input.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** PATCH /api/projects/:id/spec: an edit without a socket, by the same intake as any other. */
export function specEditRoutes(parts: HttpParts): Router {
  const router = Router();
  const once = onceOnly(parts);
  router.patch('/projects/:id/spec', async (req, res) => {
    const { project, account } = await memberOf(parts, req, 'editSpec');
    const edit = bodyOf(specEditSchema, req);
    const ifSeq = ifMatch(req);
    const set = new Map(Object.entries(edit.set).map(([path, value]) => [path, storedAt(path, value)]));
    removable(edit);
    await once(req, res, account.id, async () => {
      const wish = { account: account.id, set, remove: edit.remove, ...(ifSeq !== undefined && { ifSeq }) };
      return { status: 200, body: { seq: keptSeq(await parts.live.edit(project.id, wish)) } };
    });
  });
  return router;
}

/** The journal number in the answer of something that was written, or why it was not. */
export function keptSeq(outcome: Scripted): number {
  if (outcome.ok) return outcome.seq;
  const { code, detail } = outcome;
  if (code === 'not-kept') throw new Refusal('read-only', { detail });
  if (code === 'moved-on') throw new Refusal(code, { detail, expected: 'the number you read; read again and look' });
  throw new Refusal(code === 'refused' ? 'edit-refused' : code, { detail });
}

function ifMatch(req: Request): number | undefined {
  const text = req.get('if-match');
  if (text === undefined) return undefined;
  const [, digits] = /^"?(\d{1,15})"?$/.exec(text.trim()) ?? [];
  if (digits !== undefined) return Number(digits);
  throw new Refusal('bad-request', {
    detail: 'If-Match could not be read',
    expected: 'the journal number of the state you read, such as "12"',
    came: text.slice(0, 60),
  });
}

/** A value as the document keeps it; text is read as it is in the app. */
function storedAt(path: string, value: string | number): StoredValue {
  const parsed = known(path);
  if (parsed.kind === 'element' || parsed.kind === 'node') {
    if (typeof value === 'number') return value;
    throw wrong(path, 'expected its place in the order, a number');
  }
  if (!('field' in parsed)) throw wrong(path, TICK);
  if (typeof value === 'string') {
    const typed = checkTyped(parsed.field, value);
    if (typed.ok) return typed.value;
    throw wrong(path, typed.error);
  }
  const checked = checkStored(parsed.field, value);
  if (checked.ok) return value;
  throw wrong(path, checked.error);
}

const TICK = 'a tick is a person’s word; it is given in the app';

function removable({ set, remove }: SpecEdit): void {
  for (const path of remove) {
    if (known(path).kind === 'tick') throw wrong(path, TICK);
    if (Object.hasOwn(set, path)) throw wrong(path, 'it stands in set and in remove');
  }
}

function known(path: string): ParsedPath {
  const parsed = parsePath(path);
  if (!parsed) throw wrong(path, 'it names nothing in a spec');
  return parsed;
}

function wrong(path: string, why: string): Refusal {
  return new Refusal('edit-refused', { detail: `${path}: ${why}; nothing was changed` });
}
