import {
  acceptedInviteSchema,
  acceptInviteSchema,
  healthSchema,
  inviteListSchema,
  madeInviteSchema,
  newInviteSchema,
  newProjectSchema,
  offerSchema,
  projectDetailSchema,
  projectListSchema,
  projectSchema,
  readinessSchema,
  sessionSchema,
  setupSchema,
  signInSchema,
} from './http.ts';
import {
  hookListSchema,
  madeHookSchema,
  mailAddressSchema,
  mailCodeSchema,
  mailStateSchema,
  newHookSchema,
  noticeListSchema,
  readNoticesSchema,
} from './notices.ts';
import {
  newPasskeySchema,
  passkeyListSchema,
  passkeyOptionsSchema,
  passkeySchema,
  passkeyWishSchema,
} from './passkeys.ts';
import { json, type Route, rows } from './route.ts';
import { madeTokenSchema, newTokenSchema, tokenListSchema } from './tokens.ts';

const open = rows({ topic: 'Server', base: '', who: 'anyone', scope: null });
const entry = rows({ topic: 'People', base: '/api', who: 'anyone', scope: null });
const own = rows({ topic: 'People', base: '/api', who: 'account', scope: null });
const job = '/api/projects/:id';
const read = rows({ topic: 'People', base: job, who: 'read', scope: 'read' });
const invite = rows({ topic: 'People', base: job, who: 'invite', scope: null });
const manage = rows({ topic: 'People', base: job, who: 'manage', scope: null });
const notice = rows({ topic: 'Notices', base: job, who: 'read', scope: null });
const hook = rows({ topic: 'Notices', base: job, who: 'manage', scope: null });
const key = rows({ topic: 'Keys', base: job, who: 'read', scope: null });

/** Server, people, notices and keys. */
export const peopleRoutes: readonly Route[] = [
  open('get /healthz', 'The process answers', { answers: { 200: healthSchema } }),
  open('get /readyz', 'It can do its work', { answers: { 200: readinessSchema, 503: readinessSchema } }),
  open('get /g/style.css', 'How the page behind a paper’s code looks', { answers: { 200: 'text/css' } }),
  open('get /g/:project/:gate', 'Whether a paper is still current', {
    answers: { 200: 'text/html', 403: 'text/html', 404: 'text/html' },
  }),
  open('get /api/openapi.json', 'This description', { answers: { 200: json } }),
  open('get /api/docs', 'This description as a page', { answers: { 200: 'text/html' } }),
  open('get /api/docs/style.css', 'How that page looks', { answers: { 200: 'text/css' } }),

  entry('get /session', 'Who is signed in', { answers: { 200: sessionSchema } }),
  entry('post /session', 'Sign in', {
    ...{ body: signInSchema, answers: { 200: sessionSchema }, refusals: ['wrong-credentials'] },
  }),
  entry('delete /session', 'Sign out', { answers: { 204: null } }),
  entry('post /setup', 'Make the first account', {
    ...{ body: setupSchema, answers: { 201: sessionSchema } },
    refusals: ['wrong-setup-code', 'already-set-up', 'weak-password'],
  }),
  entry('get /invites/:token', 'What an invite link offers', {
    answers: { 200: offerSchema },
    refusals: ['invite-gone'],
  }),
  entry('post /invites/:token', 'Accept an invite', {
    ...{ body: acceptInviteSchema, answers: { 200: acceptedInviteSchema, 201: acceptedInviteSchema } },
    refusals: ['invite-gone', 'login-taken', 'weak-password', 'not-signed-in'],
  }),
  own('get /account/mail', 'Where one’s mail goes', { answers: { 200: mailStateSchema } }),
  own('put /account/mail', 'Name a mail address: a code is mailed to it', {
    ...{ body: mailAddressSchema, answers: { 200: mailStateSchema }, refusals: ['no-mail'] },
  }),
  own('delete /account/mail', 'Forget one’s mail address', { answers: { 204: null } }),
  own('post /account/mail/confirm', 'Confirm it with the code', {
    ...{ body: mailCodeSchema, answers: { 200: mailStateSchema }, refusals: ['wrong-mail-code'] },
  }),
  own('get /account/passkeys', 'One’s passkeys', { answers: { 200: passkeyListSchema } }),
  own('post /account/passkeys/challenge', 'Begin to register a passkey', {
    ...{ body: passkeyWishSchema, answers: { 200: passkeyOptionsSchema } },
    refusals: ['wrong-password', 'too-many', 'passkey-refused'],
  }),
  own('post /account/passkeys', 'Register what the device answered', {
    ...{ body: newPasskeySchema, answers: { 201: passkeySchema }, refusals: ['passkey-refused'] },
  }),
  own('delete /account/passkeys/:passkey', 'Remove a passkey', { answers: { 204: null } }),
  own('get /projects', 'One’s jobs', { answers: { 200: projectListSchema } }),
  own('post /projects', 'Start a job', { body: newProjectSchema, answers: { 201: projectSchema } }),

  read('get ', 'A job and its people', { answers: { 200: projectDetailSchema } }),
  invite('get /invites', 'Invite links', { answers: { 200: inviteListSchema } }),
  invite('post /invites', 'Make an invite link', { body: newInviteSchema, answers: { 201: madeInviteSchema } }),
  invite('delete /invites/:invite', 'Revoke an invite link', { answers: { 204: null }, refusals: ['invite-gone'] }),
  manage('delete /members/:account', 'Take somebody out of the job', {
    ...{ answers: { 204: null }, refusals: ['last-lead'] },
  }),
  notice('get /notices', 'What one was told of', { answers: { 200: noticeListSchema } }),
  notice('post /notices/read', 'Mark as read', { body: readNoticesSchema, answers: { 204: null } }),
  hook('get /hooks', 'Where notices are posted to', { answers: { 200: hookListSchema } }),
  hook('post /hooks', 'Post notices to an address', {
    ...{ body: newHookSchema, answers: { 201: madeHookSchema }, refusals: ['hook-refused'] },
  }),
  hook('delete /hooks/:hook', 'Stop posting to an address', { answers: { 204: null } }),
  key('get /tokens', 'Keys for scripts', { answers: { 200: tokenListSchema } }),
  key('post /tokens', 'Make a key for scripts', { body: newTokenSchema, answers: { 201: madeTokenSchema } }),
  key('delete /tokens/:token', 'Revoke a key', { answers: { 204: null } }),
];
