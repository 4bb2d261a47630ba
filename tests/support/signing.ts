import type { LiveAnswer, LivePerson, LiveServer } from './live.ts';

/** What is asked for before a signature, and the password it is then confirmed with. */
export interface SigningRequest {
  readonly password: string;
  readonly [member: string]: unknown;
}

/** Reads what will be signed, then signs it: the first refusal, or the signature. */
export async function signOver(
  http: LiveServer['http'],
  who: LivePerson | null,
  at: { readonly project: string; readonly gate: string },
  { password, ...request }: SigningRequest,
): Promise<LiveAnswer> {
  const base = `/api/projects/${at.project}/gates/${at.gate}`;
  const offer = await http(who, 'POST', `${base}/challenge`, { initials: 'N.N.', confirmedBy: 'password', ...request });
  if (offer.status !== 201) return offer;
  return http(who, 'POST', `${base}/signatures`, { nonce: offer.body.nonce, password });
}
