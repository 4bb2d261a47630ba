import { createHash } from 'node:crypto';
import type { Request, Response } from 'express';
import { isoTime } from '../ambient.ts';
import type { HttpParts } from './parts.ts';
import { Refusal } from './refusal.ts';

/** How long an answer is kept for a request that comes again, ms. */
export const KEPT_FOR = 24 * 3_600_000;
const KEY = /^[\x21-\x7e]{1,128}$/;

interface Made {
  readonly status: number;
  readonly body: unknown;
}

const sha = (text: string): string => createHash('sha256').update(text).digest('hex');

/**
 * Answers a request that bears an Idempotency-Key once, and the same one again with what was answered then. Only what was done is kept: a
 * refusal may be put right and sent again under the same key.
 */
export function onceOnly(
  parts: Pick<HttpParts, 'records' | 'clock'>,
): (req: Request, res: Response, account: string, work: () => Promise<Made>) => Promise<void> {
  const underWay = new Map<string, Promise<Made>>();
  return async (req, res, account, work) => {
    const key = req.get('idempotency-key');
    if (key === undefined) return send(res, await work());
    if (!KEY.test(key))
      throw new Refusal('bad-request', {
        detail: 'the Idempotency-Key cannot be used',
        expected: '1 to 128 printable characters without spaces',
        came: `${key.length} characters`,
      });
    const id = sha(JSON.stringify([account, key]));
    const request = sha(JSON.stringify([req.method, req.baseUrl, req.path, req.get('if-match') ?? '', req.body]));
    // The same request twice at once: the second waits for what comes of the first.
    while (underWay.has(id)) await underWay.get(id)?.catch(() => undefined);
    const making = again(parts, { id, request, work });
    underWay.set(id, making);
    try {
      send(res, await making);
    } finally {
      underWay.delete(id);
    }
  };
}

interface Asked {
  readonly id: string;
  readonly request: string;
  readonly work: () => Promise<Made>;
}

async function again({ records, clock }: Pick<HttpParts, 'records' | 'clock'>, asked: Asked): Promise<Made> {
  const { id, request, work } = asked;
  const kept = await records.keptAnswer(id);
  if (kept && Date.parse(kept.at) > clock() - KEPT_FOR) {
    if (kept.request !== request)
      throw new Refusal('key-reused', {
        detail: 'it came with another request before',
        expected: 'a new key for each new request',
      });
    const body: unknown = JSON.parse(kept.body);
    return { status: kept.status, body };
  }
  const made = await work();
  await records.keepAnswer({ id, request, status: made.status, body: JSON.stringify(made.body), at: isoTime(clock()) });
  return made;
}

function send(res: Response, { status, body }: Made): void {
  res.status(status).json(body);
}
