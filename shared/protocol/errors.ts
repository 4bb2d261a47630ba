import { z } from 'zod';

/** One row of the error table: `status` is the HTTP status, `title` the same words for every case of this code. */
interface ErrorRow {
  readonly status: number;
  readonly title: string;
}

/** Every refusal the server can give, over HTTP and (by code) over the sockets. A code is never reused for another meaning. */
export const errors = {
  'bad-json': { status: 400, title: 'The request body is not valid JSON' },
  'bad-request': { status: 400, title: 'The request does not have the expected shape' },
  'not-signed-in': { status: 401, title: 'Sign in first' },
  'wrong-credentials': { status: 401, title: 'Login or password is wrong' },
  'bad-token': { status: 401, title: 'The token is not valid, or no longer' },
  'bad-origin': { status: 403, title: 'The request comes from another site' },
  'wrong-role': { status: 403, title: 'Your roles in this project do not allow this' },
  'wrong-password': { status: 403, title: 'The password is wrong' },
  'passkey-refused': { status: 403, title: 'The passkey was not taken' },
  'token-scope': { status: 403, title: 'This token was not made for that' },
  'wrong-mail-code': { status: 403, title: 'The code is wrong or has run out' },
  'wrong-setup-code': { status: 403, title: 'The setup code is wrong' },
  'not-found': { status: 404, title: 'There is nothing here for you' },
  'already-set-up': { status: 409, title: 'This server already has an account' },
  'login-taken': { status: 409, title: 'This login is already in use' },
  'facts-moved': { status: 409, title: 'The facts have changed since you looked' },
  'gate-held': { status: 409, title: 'Something still holds this gate' },
  'record-moved': { status: 409, title: 'The record has gone on since you read it' },
  'already-signed': { status: 409, title: 'This is already signed' },
  'nothing-to-accept': { status: 409, title: 'There is nothing here that could be accepted' },
  'already-accepted': { status: 409, title: 'This is already accepted' },
  'already-over': { status: 409, title: 'This is already over' },
  'same-person': { status: 409, title: 'This gate needs two people' },
  'last-lead': { status: 409, title: 'The last lead of a project stays in it' },
  'no-mail': { status: 409, title: 'This server sends no mail' },
  'upload-offset': { status: 409, title: 'The upload does not continue where the server stands' },
  'offer-gone': { status: 410, title: 'What you read is no longer waiting to be signed' },
  'invite-gone': { status: 410, title: 'This invite can no longer be used' },
  'upload-gone': { status: 410, title: 'This upload is no longer kept' },
  'tus-version': { status: 412, title: 'The upload protocol version is missing or not supported' },
  'moved-on': { status: 412, title: 'The project has moved on since you read it' },
  'too-large': { status: 413, title: 'The request is larger than allowed' },
  'unsupported-type': { status: 415, title: 'The request body has an unexpected content type' },
  'weak-password': { status: 422, title: 'This password is too easy to guess' },
  'plan-refused': { status: 422, title: 'The job cannot be worked by this plan' },
  'edit-refused': { status: 422, title: 'This edit cannot be made' },
  'key-reused': { status: 422, title: 'This Idempotency-Key stands for another request' },
  'hook-refused': { status: 422, title: 'Notices cannot be sent to this address' },
  'empty-file': { status: 422, title: 'The file is empty' },
  'fit-refused': { status: 422, title: 'This scan cannot be laid on the other' },
  'nothing-to-export': { status: 422, title: 'There is nothing yet that could be exported' },
  'unreadable-scan': { status: 422, title: 'The file could not be read as a scan' },
  'unreadable-photo': { status: 422, title: 'The file could not be taken as a photo' },
  'unreadable-part': { status: 422, title: 'The file could not be read as a part' },
  'upload-busy': { status: 423, title: 'Another request is writing this upload' },
  'too-many': { status: 429, title: 'Too many tries' },
  internal: { status: 500, title: 'The server failed; nothing was changed' },
  'read-only': { status: 503, title: 'The server cannot write at the moment; your work is kept where it is' },
  'no-space': { status: 507, title: 'The server has not enough free space' },
} as const satisfies Record<string, ErrorRow>;

/** A key of {@link errors}. */
export type ErrorCode = keyof typeof errors;

/** True if `text` is a known error code. */
export function isErrorCode(text: string): text is ErrorCode {
  return Object.hasOwn(errors, text);
}

/**
 * The body of every error answer, media type application/problem+json (RFC 9457 with our `code` in place of `type`).
 * `detail` says what is wrong in this case, `expected` and `came` what was wanted and what arrived.
 */
export const problemSchema = z.object({
  code: z.string().refine(isErrorCode, 'not a known error code'),
  title: z.string(),
  detail: z.string(),
  expected: z.string().optional(),
  came: z.string().optional(),
});

/** The parsed body of an error answer. */
export type Problem = z.infer<typeof problemSchema>;

/** The parts of a problem that differ from case to case. */
export interface ProblemCase {
  readonly detail: string;
  readonly expected?: string;
  readonly came?: string;
}

/** The problem body for `code`; title and status come from the table, so they can't drift. */
export function problem(code: ErrorCode, { detail, expected, came }: ProblemCase): Problem {
  return {
    code,
    title: errors[code].title,
    detail,
    ...(expected === undefined ? {} : { expected }),
    ...(came === undefined ? {} : { came }),
  };
}
