import type { Request } from 'express';
import type { z } from 'zod';
import { Refusal } from './refusal.ts';

/** The JSON body in its expected shape, or a refusal that says what was expected where. */
export function bodyOf<T extends z.ZodType>(schema: T, req: Request): z.output<T> {
  if (req.body === undefined) {
    throw new Refusal('unsupported-type', {
      detail: 'there is no JSON body',
      expected: 'a body with content type application/json',
      came: req.get('content-type') ?? 'no content type',
    });
  }
  return inShape(schema, req.body, 'the body');
}

/** `value` in its expected shape; `what` names it in the refusal. */
export function inShape<T extends z.ZodType>(schema: T, value: unknown, what: string): z.output<T> {
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const path = issue?.path.map(String) ?? [];
  throw new Refusal('bad-request', {
    detail: `${what} does not fit${path.length > 0 ? ` at ${path.join('.')}` : ''}`,
    expected: issue?.message ?? 'another shape',
    came: describe(at(value, path)),
  });
}

function at(value: unknown, path: readonly string[]): unknown {
  return path.reduce<unknown>((inner, key) => (Object(inner) as Record<string, unknown>)[key], value);
}

/** The kind of thing only: what came may be a password. */
function describe(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'null';
  if (typeof value === 'string') return `text of ${value.length} characters`;
  if (Array.isArray(value)) return `a list of ${value.length}`;
  return typeof value === 'object' ? 'an object' : `the ${typeof value} ${String(value)}`;
}

/** An address part such as an id; a list (repeated part) or nothing reads as empty, which no id is. */
export function partOf(req: Request, name: string): string {
  const value: unknown = req.params[name];
  return typeof value === 'string' ? value : '';
}

/** For limits per address; behind a proxy on this machine it is the address the proxy saw. */
export function addressOf(req: Request): string {
  return req.ip ?? 'unknown';
}
