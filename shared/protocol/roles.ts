import { type Role, roles } from '../gates/roles.ts';

export { type Role, roles } from '../gates/roles.ts';

/**
 * What a member may ask for, apart from signing: who signs a gate stands in the gate table, because it differs per gate.
 * read: see spec, scans, verdicts and markups. editSpec: write the spec's document. comment: write the markups' document.
 * upload: bring a scan or part. plan: change what the gates ask for. concede: accept a value outside its limit, or take that back. invite: make, list and revoke invite links. manage: take people out, say where notices are posted to. export: take papers, spec or geometry away.
 */
export const operations = [
  'read',
  'editSpec',
  'comment',
  'upload',
  'plan',
  'concede',
  'invite',
  'manage',
  'export',
] as const;

/** One of {@link operations}. */
export type Operation = (typeof operations)[number];

/** Who may do what: the only place it is written down (HTTP, document sockets and the web's buttons all read this). */
export const authority: Readonly<Record<Operation, readonly Role[]>> = {
  read: roles,
  editSpec: ['lead', 'designer', 'scanner', 'printer', 'machinist', 'welder'],
  comment: roles,
  upload: ['lead', 'designer', 'scanner'],
  plan: ['lead'],
  concede: ['lead'],
  invite: ['lead'],
  manage: ['lead'],
  export: roles,
};

/** True if any of `held` allows `operation`. Nobody without a role may do anything. */
export function may(held: readonly Role[], operation: Operation): boolean {
  return held.some((role) => authority[operation].includes(role));
}

/** True if `text` is exactly one of {@link roles}; for text that comes from outside or from a row. */
export function isRole(text: string): text is Role {
  return roles.some((role) => role === text);
}
