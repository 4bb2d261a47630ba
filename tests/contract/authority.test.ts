import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { WebSocket } from 'ws';
import { gateRow } from '../../shared/gates/gates.ts';
import { errors } from '../../shared/protocol/errors.ts';
import { refusalsOf } from '../../shared/protocol/openapi.ts';
import { may } from '../../shared/protocol/roles.ts';
import type { Route } from '../../shared/protocol/route.ts';
import { routes } from '../../shared/protocol/routes.ts';
import { type LiveServer, liveServer } from '../support/live.ts';
import { type Asker, type GateStateName, gateStates, type Job, jobIn, wishFor } from './authorityPeople.ts';

// Every cell of the authority matrix: who x what x where the gate stands. What is expected follows from the tables of roles and routes and
// from the lines below, never from what the server does.

// Thousands of calls, on whatever machine.
vi.setConfig({ testTimeout: 60_000 });

let live: LiveServer;
const jobs = new Map<GateStateName, Job>();
let cells = 0;

beforeAll(async () => {
  live = await liveServer({ env: { SLIPJOINT_REQUESTS_PER_MINUTE: '1000000' } });
  for (const state of gateStates) jobs.set(state, await jobIn(live, state));
}, 60_000);
afterAll(async () => {
  process.stdout.write(`authority matrix: ${cells} cells\n`);
  await live.close();
});

function job(state: GateStateName): Job {
  const found = jobs.get(state);
  if (!found) throw new Error(`no job whose scan gate is ${state}`);
  return found;
}

interface Outcome {
  readonly status: number;
  readonly code: string;
  readonly detail: string;
}

async function call(asker: Asker, route: Route, project: string, body?: unknown): Promise<Outcome> {
  const path = route.path
    .replace(':id', route.path.startsWith('/api/uploads') ? 'none' : project)
    .replace(':gate', 'scan')
    .replace(/:\w+/g, 'none');
  const bodied = ['post', 'put', 'patch'].includes(route.method) && route.raw === undefined;
  const answer = await fetch(new URL(path, live.origin), {
    method: route.method.toUpperCase(),
    headers: { Origin: live.origin, ...(bodied && { 'Content-Type': 'application/json' }), ...asker.headers },
    ...(bodied && { body: JSON.stringify(body ?? {}) }),
  });
  const read: unknown = await answer.json().catch(() => ({}));
  const { code = '', detail = '' } = Object(read) as { code?: string; detail?: string };
  return { status: answer.status, code, detail };
}

const OUTSIDE = { status: 404, code: 'not-found', detail: 'you are in no such project' };
const ofJobs = (route: Route): boolean => route.path.startsWith('/api/projects/:id');

/** What the tables say: a refusal, or that whatever comes is not about who asks. */
function expected(asker: Asker, route: Route): { readonly status: number; readonly code: string } | 'through' {
  const { who, lead, scope } = route;
  if (asker.kind === 'nobody') return { status: 401, code: 'not-signed-in' };
  if (asker.kind === 'token' && (scope === null || !asker.scopes.includes(scope)))
    return { status: 403, code: 'token-scope' };
  if (who === 'anyone' || who === 'account') return 'through';
  if (asker.kind === 'stranger') return OUTSIDE;
  const allowed = may(asker.roles, who) && (!lead || asker.roles.includes('lead'));
  return allowed ? 'through' : { status: 403, code: 'wrong-role' };
}

/** A HEAD answer has no body to tell its kind by. */
function compare(route: Route, came: Outcome, wanted: ReturnType<typeof expected>): string | null {
  const refused = came.status === 401 || came.status === 403 || came.detail === OUTSIDE.detail;
  if (wanted === 'through') return refused ? `refused with ${came.status} ${came.code}` : null;
  if (came.status !== wanted.status)
    return `expected ${wanted.status} ${wanted.code}, came ${came.status} ${came.code}`;
  if (route.method === 'head') return null;
  if (wanted === OUTSIDE) return came.detail === OUTSIDE.detail ? null : `told a stranger: ${came.detail}`;
  return came.code === wanted.code ? null : `expected ${wanted.code}, came ${came.code}`;
}

/** An answer that the description of the API does not speak of. */
function undescribed(route: Route, { status, code }: Outcome): string | null {
  if (Object.hasOwn(route.answers, status)) return null;
  const codes: readonly string[] = refusalsOf(route);
  const described =
    route.method === 'head' ? refusalsOf(route).some((one) => errors[one].status === status) : codes.includes(code);
  return described ? null : `answered ${status} ${code}, which is not described`;
}

const asked = routes.filter(({ who }) => who !== 'anyone');

describe.each(gateStates)('over HTTP, the scan gate %s', (state) => {
  it('every call is refused exactly where the tables say', async () => {
    const { project, askers } = job(state);
    const wrong: string[] = [];
    for (const asker of askers) {
      await Promise.all(
        asked.map(async (route) => {
          cells += 1;
          const came = await call(asker, route, project);
          const fault = compare(route, came, expected(asker, route)) ?? undescribed(route, came);
          if (fault !== null) wrong.push(`${asker.name}: ${route.method} ${route.path}: ${fault}`);
        }),
      );
    }
    expect(wrong).toEqual([]);
  });

  it('a stranger hears the same as of a job that is not there', async () => {
    const { project, askers } = job(state);
    const stranger = askers.find(({ kind }) => kind === 'stranger');
    if (!stranger) throw new Error('there is a stranger');
    for (const route of asked.filter(ofJobs)) {
      cells += 1;
      expect(await call(stranger, route, project), route.path).toEqual(await call(stranger, route, 'no-such-job'));
    }
  });

  it('signing is offered to who signs there, and only while there is something to sign', async () => {
    const { project, askers } = job(state);
    const route = routes.find(({ path }) => path.endsWith('/gates/:gate/challenge'));
    if (!route) throw new Error('there is a way to sign');
    for (const asker of askers.filter(({ kind }) => kind === 'member')) {
      const [role] = asker.roles;
      if (!role) throw new Error(`${asker.name} has a role`);
      cells += 1;
      const signs = gateRow('scan').signs.includes(role);
      const { status, code } = await call(asker, route, project, await wishFor(live, project, role));
      const here = { open: '409 gate-held', ready: '201 ', signed: '409 already-signed', stale: '201 ' };
      const wanted = { ...here, 'not-in-force': '409 gate-held' }[state];
      expect(`${status} ${code}`, asker.name).toBe(signs ? wanted : '403 wrong-role');
    }
  });

  it('an edit and a remark by a script are taken exactly where roles and scopes allow', async () => {
    const { project, askers } = job(state);
    const bodies: Readonly<Record<string, unknown>> = {
      // The value that is there: nothing any gate rests on moves.
      'patch /api/projects/:id/spec': { set: { 'engine.lambda': 0.85 } },
      'post /api/projects/:id/markups': { at: [0, 0, 0], text: 'look here' },
    };
    for (const route of routes) {
      const body = bodies[`${route.method} ${route.path}`];
      if (body === undefined) continue;
      for (const asker of askers) {
        cells += 1;
        const came = await call(asker, route, project, body);
        const wanted = expected(asker, route);
        if (wanted === 'through') expect(came.status, `${asker.name} ${route.path}`).toBeLessThan(300);
        else expect(came, `${asker.name} ${route.path}`).toMatchObject({ status: wanted.status, code: wanted.code });
      }
    }
  });
});

describe.each(gateStates)('over the sockets, the scan gate %s', (state) => {
  it.each([
    ['spec', 'editSpec'],
    ['markup', 'comment'],
  ] as const)('%s is written exactly by who may', async (name, operation) => {
    const { project, askers } = job(state);
    for (const asker of askers) {
      cells += 1;
      if (asker.kind !== 'member' || !asker.person) {
        expect(await upgraded(`/sync/${project}/${name}`, cookieless(asker)), asker.name).toBe(403);
        continue;
      }
      const document = live.document(asker.person, project, name);
      await document.synced();
      if (name === 'spec') document.set('engine.lambda', document.map.get('engine.lambda') ?? 0.85);
      else document.set('t.zz.state', { by: asker.person.account.id, state: 'open' });
      await live.signal.until(
        () => document.unconfirmed() === 0 || document.refused.length > 0,
        `${asker.name} ${name}`,
      );
      expect(document.refused.length === 0, `${asker.name} writes ${name}`).toBe(may(asker.roles, operation));
      document.close();
    }
  });

  it('the feed tells members and nobody else', async () => {
    const { project, askers } = job(state);
    for (const asker of askers) {
      cells += 1;
      const cookie = cookieless(asker).Cookie ?? '';
      const feed = live.feed({ cookie }, project);
      const answered = () => feed.snapshots.length + feed.refusals.length + feed.errors.length > 0;
      await live.signal.until(answered, `an answer of the feed to ${asker.name}`);
      const came = [feed.snapshots.length > 0, feed.refusals[0]?.code, feed.errors[0]];
      if (asker.kind === 'member') expect(came).toEqual([true, undefined, undefined]);
      else if (asker.kind === 'stranger') expect(came).toEqual([false, 'not-found', undefined]);
      else expect(came).toEqual([false, undefined, 'not-signed-in']);
      feed.close();
    }
  });
});

/** A token alone: the lead's cookie, which the matrix over HTTP sends beside it, would open a socket. */
function cookieless(asker: Asker): Readonly<Record<string, string>> {
  if (asker.kind !== 'token') return asker.headers;
  return { Authorization: asker.headers.Authorization ?? '' };
}

/** Status of an upgrade: 101, or what it was refused with. */
function upgraded(path: string, headers: Readonly<Record<string, string>>): Promise<number> {
  return new Promise((resolve, reject) => {
    const socket = new WebSocket(`${live.origin.replace('http', 'ws')}${path}`, {
      headers: { Origin: live.origin, ...headers },
    });
    socket.on('open', () => {
      socket.terminate();
      resolve(101);
    });
    socket.on('unexpected-response', (request, response) => {
      request.destroy();
      resolve(response.statusCode ?? 0);
    });
    socket.on('error', reject);
  });
}
