import { Server } from '@tus/server';
import { type ErrorCode, errors, problem, problemSchema } from '../../shared/protocol/errors.ts';

/** What the upload library refuses by itself, in our words. */
const codes: Readonly<Record<number, ErrorCode>> = {
  400: 'bad-request',
  403: 'bad-request',
  404: 'not-found',
  409: 'upload-offset',
  410: 'upload-gone',
  412: 'tus-version',
  413: 'too-large',
  423: 'upload-busy',
};

/** The upload library's server, answering every error as a problem like the rest of the API. */
export class TusServer extends Server {
  override write(...[context, headers, status, body]: Parameters<Server['write']>): ReturnType<Server['write']> {
    if (status < 400) return super.write(context, headers, status, body);
    headers.set('Content-Type', 'application/problem+json');
    const own = parseProblem(body);
    if (own !== undefined) return super.write(context, headers, status, body);
    const code = codes[status] ?? 'internal';
    // A fault's own words may name paths of this machine; they go to the alarm instead.
    const detail = code === 'internal' ? 'the fault is in the server and has been logged' : (body ?? '').trim();
    return super.write(context, headers, errors[code].status, JSON.stringify(problem(code, { detail })));
  }
}

function parseProblem(body: string | undefined): unknown {
  try {
    return problemSchema.safeParse(JSON.parse(body ?? '')).data;
  } catch {
    return undefined;
  }
}
