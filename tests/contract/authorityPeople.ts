import { gateRow } from '../../shared/gates/gates.ts';
import { type Role, roles } from '../../shared/gates/roles.ts';
import { type TokenScope, tokenScopes } from '../../shared/protocol/tokens.ts';
import { RULE_SET } from '../../shared/rules/registry.ts';
import { type LivePerson, type LiveServer, livePassword, signableEntries } from '../support/live.ts';

/** Where the scan gate of a job stands. */
export const gateStates = ['open', 'ready', 'signed', 'stale', 'not-in-force'] as const;
export type GateStateName = (typeof gateStates)[number];

/** Somebody, or something, that asks. */
export interface Asker {
  readonly name: string;
  readonly kind: 'nobody' | 'stranger' | 'member' | 'token';
  /** Held in the job; of a token, its owner's. */
  readonly roles: readonly Role[];
  readonly scopes: readonly TokenScope[];
  readonly headers: Readonly<Record<string, string>>;
  readonly person: LivePerson | null;
}

export interface Job {
  readonly state: GateStateName;
  readonly project: string;
  readonly askers: readonly Asker[];
}

const items = gateRow('scan').items;

/** Enough for the scan gate, and nothing a worker would have to make a solid of. */
function entriesFor(state: GateStateName, by: string): Map<string, unknown> {
  const entries = new Map([...signableEntries()].filter(([key]) => !key.startsWith('runners.')));
  if (state !== 'open') for (const { id } of items) entries.set(`ticks.scan.${id}`, { done: true, note: '', by });
  return entries;
}

/** A job for a state of its scan gate, with one person for each role, and all who may ask. */
export async function jobIn(live: LiveServer, state: GateStateName): Promise<Job> {
  const { account } = await live.person('lead');
  const people = Object.fromEntries(roles.map((role) => [role, [role]]));
  const project = await live.project(people, entriesFor(state, account.id));
  if (state === 'signed' || state === 'stale') {
    await sign(live, project, 'scanner');
    await sign(live, project, 'lead');
  }
  if (state === 'stale') await moveFact(live, project);
  if (state === 'not-in-force') await leaveOut(live, project);
  return { state, project, askers: await askersOf(live, project) };
}

async function ask(live: LiveServer, login: string, call: readonly [string, string, unknown?]) {
  const [method, path, body] = call;
  const answer = await live.http(await live.person(login), method, path, body);
  if (answer.status >= 300) throw new Error(`${login} ${method} ${path}: ${JSON.stringify(answer.body)}`);
  return answer.body;
}

/** What the wish to sign has to name. */
export async function wishFor(live: LiveServer, project: string, role: Role) {
  const { gates } = await ask(live, 'lead', ['GET', `/api/projects/${project}/gates`]);
  const digest = (gates as readonly { gate: string; digest: string }[]).find(({ gate }) => gate === 'scan')?.digest;
  return { role, digest, ruleSet: RULE_SET, meaning: 'released', initials: 'AB', confirmedBy: 'password' };
}

async function sign(live: LiveServer, project: string, role: Role): Promise<void> {
  const at = `/api/projects/${project}/gates/scan`;
  const { nonce } = await ask(live, role, ['POST', `${at}/challenge`, await wishFor(live, project, role)]);
  await ask(live, role, ['POST', `${at}/signatures`, { nonce, password: livePassword }]);
}

async function moveFact(live: LiveServer, project: string): Promise<void> {
  const lead = await live.person('lead');
  const spec = live.document(lead, project);
  await spec.synced();
  spec.set(`ticks.scan.${items[0]?.id}`, { done: true, note: 'looked again', by: lead.account.id });
  await spec.kept();
  spec.close();
}

async function leaveOut(live: LiveServer, project: string): Promise<void> {
  const { plan, row } = await ask(live, 'lead', ['GET', `/api/projects/${project}/plan`]);
  const changed = (plan as readonly { gate: string }[]).map((one) =>
    one.gate === 'scan' ? { ...one, left: 'the bay was measured by hand' } : one,
  );
  const body = { plan: changed, reason: 'no scanner at hand', replaces: row, password: livePassword };
  await ask(live, 'lead', ['PUT', `/api/projects/${project}/plan`, body]);
}

async function askersOf(live: LiveServer, project: string): Promise<readonly Asker[]> {
  const none = { roles: [], scopes: [], headers: {}, person: null };
  const outsider = await live.person('outsider');
  const members = await Promise.all(
    roles.map(async (role): Promise<Asker> => {
      const person = await live.person(role);
      return { ...none, name: role, kind: 'member', roles: [role], headers: { Cookie: person.cookie }, person };
    }),
  );
  const scripts = await Promise.all([
    ...tokenScopes.map((scope) => tokenOf(live, project, { role: 'lead', scopes: [scope] })),
    tokenOf(live, project, { role: 'reviewer', scopes: ['read', 'comment', 'export'] }),
  ]);
  return [
    { ...none, name: 'nobody', kind: 'nobody' },
    { ...none, name: 'stranger', kind: 'stranger', headers: { Cookie: outsider.cookie }, person: outsider },
    ...members,
    ...scripts,
  ];
}

async function tokenOf(
  live: LiveServer,
  project: string,
  { role, scopes }: { readonly role: Role; readonly scopes: readonly TokenScope[] },
): Promise<Asker> {
  const expiresAt = new Date(Date.now() + 3_600_000).toISOString();
  const body = { name: 'matrix', scopes, expiresAt };
  const { token } = await ask(live, role, ['POST', `/api/projects/${project}/tokens`, body]);
  // The cookie beside it must count for nothing, whoever it is of.
  const lead = await live.person('lead');
  const headers = { Authorization: `Bearer ${String(token)}`, Cookie: lead.cookie };
  return { name: `token of ${role} for ${scopes.join()}`, kind: 'token', roles: [role], scopes, headers, person: null };
}
