import { z } from 'zod';
import { problemSchema } from '../../shared/protocol/errors.ts';
import { problemText } from './problemText.ts';

/** A refusal of the server, as text for the person. */
export class ApiProblem extends Error {
  readonly code: string;
  readonly status: number;
  constructor(code: string, status: number, detail: string) {
    super(detail);
    this.code = code;
    this.status = status;
  }
}

async function problem(response: Response): Promise<ApiProblem> {
  const body: unknown = await response.json().catch(() => null);
  const parsed = problemSchema.safeParse(body);
  if (!parsed.success) return new ApiProblem('unreadable', response.status, `The server answered ${response.status}.`);
  return new ApiProblem(parsed.data.code, response.status, problemText(parsed.data));
}

/** The answer of what answers nothing. */
export const nothing = z.null();

/** Calls the API; the answer is checked against `schema`, null when none is expected. Rejects with an ApiProblem. */
export async function call<T>(
  method: string,
  path: string,
  options: { readonly body?: unknown; readonly schema: z.ZodType<T> },
): Promise<T> {
  const response = await fetch(path, {
    method,
    ...(options.body !== undefined && {
      body: JSON.stringify(options.body),
      headers: { 'content-type': 'application/json' },
    }),
  }).catch(() => {
    throw new ApiProblem('unreachable', 0, 'The server cannot be reached. Check the link and try again.');
  });
  if (!response.ok) throw await problem(response);
  const body: unknown = response.status === 204 ? null : await response.json();
  return options.schema.parse(body);
}

/** Sends JSON and gets bytes, such as a paper made from it. Rejects with an ApiProblem. */
export async function postForBytes(path: string, body: unknown): Promise<ArrayBuffer> {
  const response = await fetch(path, {
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
  }).catch(() => {
    throw new ApiProblem('unreachable', 0, 'The server cannot be reached. Check the link and try again.');
  });
  if (!response.ok) throw await problem(response);
  return response.arrayBuffer();
}

/** Sends a file as it is; the answer is checked against `schema`. Rejects with an ApiProblem. */
export async function sendFile<T>(path: string, file: Blob, schema: z.ZodType<T>): Promise<T> {
  const headers = { 'content-type': file.type || 'application/octet-stream' };
  const response = await fetch(path, { method: 'POST', body: file, headers }).catch(() => {
    throw new ApiProblem('unreachable', 0, 'The server cannot be reached. Check the link and try again.');
  });
  if (!response.ok) throw await problem(response);
  return schema.parse(await response.json());
}

/** Bytes that never change under their address. `again` asks past every cache. Rejects with an ApiProblem. */
export async function fetchBytes(path: string, again: boolean): Promise<ArrayBuffer> {
  const lost = (): never => {
    throw new ApiProblem('unreachable', 0, 'the server cannot be reached');
  };
  const response = await fetch(path, again ? { cache: 'reload' } : {}).catch(lost);
  if (!response.ok) throw await problem(response);
  return response.arrayBuffer().catch(lost);
}
