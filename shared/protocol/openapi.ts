import { z } from 'zod';
import { type ErrorCode, errors, isErrorCode, problemSchema } from './errors.ts';
import { authority } from './roles.ts';
import type { Route } from './route.ts';
import { routes } from './routes.ts';

/** Version of what is described here; raised when something that was there changes. */
export const API_VERSION = '1.0.0';

type Json = Readonly<Record<string, unknown>>;

/** Every refusal a route can give: those of its kind and its own. */
export function refusalsOf({ path, who, lead, scope, body, query, refusals }: Route): readonly ErrorCode[] {
  const signedIn: readonly ErrorCode[] = who === 'anyone' ? [] : ['not-signed-in', 'too-many'];
  const inJob = who !== 'anyone' && who !== 'account';
  const member: readonly ErrorCode[] = inJob || path.includes(':') ? ['not-found'] : [];
  const role: readonly ErrorCode[] = lead || (inJob && !everybodyMay(who)) ? ['wrong-role'] : [];
  const shape: readonly ErrorCode[] = body ? ['bad-json', 'bad-request', 'unsupported-type', 'too-large'] : [];
  const asking: readonly ErrorCode[] = query ? ['bad-request'] : [];
  const token: readonly ErrorCode[] = who === 'anyone' && scope === null ? [] : ['bad-token', 'token-scope'];
  return [...new Set([...signedIn, ...member, ...role, ...shape, ...asking, ...token, ...refusals])];
}

function everybodyMay(who: Route['who']): boolean {
  return who !== 'anyone' && who !== 'account' && authority[who].length === authority.read.length;
}

/** Who may, in words. */
export function whoWords({ who, lead }: Route): string {
  if (who === 'anyone') return 'anyone';
  if (who === 'account') return 'whoever is signed in';
  if (lead) return 'lead';
  return everybodyMay(who) ? 'every member' : authority[who].join(', ');
}

function schemaOf(schema: z.ZodType, io: 'input' | 'output'): Json {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io, unrepresentable: 'any', target: 'draft-2020-12' });
  return rest;
}

function answer(what: z.ZodType | string | null): Json {
  if (what === null) return { description: 'Done.' };
  if (typeof what === 'string') return { description: 'Done.', content: { [what]: {} } };
  return { description: 'Done.', content: { 'application/json': { schema: schemaOf(what, 'output') } } };
}

function answersOf(route: Route): Json {
  const out: Record<string, Json> = {};
  for (const [status, what] of Object.entries(route.answers)) out[status] = answer(what);
  const codes = refusalsOf(route);
  for (const status of [...new Set(codes.map((code) => errors[code].status))].sort()) {
    const own = codes.filter((code) => errors[code].status === status);
    const description = own.map((code) => `\`${code}\`: ${errors[code].title}.`).join(' ');
    const content = { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } };
    if (out[String(status)] === undefined) out[String(status)] = { description, content };
  }
  return out;
}

function parametersOf({ path, query, headers = [] }: Route): readonly Json[] {
  const names = [...path.matchAll(/:(\w+)/g)].map(([, name]) => name ?? '');
  const inPath = names.map((name) => ({ name, in: 'path', required: true, schema: { type: 'string' } }));
  const inHead = headers.map((name) => ({ name, in: 'header', required: false, schema: { type: 'string' } }));
  if (!query) return [...inPath, ...inHead];
  const { properties = {}, required = [] } = schemaOf(query, 'input');
  const needed: readonly unknown[] = Array.isArray(required) ? required : [];
  const inQuery = Object.entries(Object(properties)).map(([name, schema]) => ({
    ...{ name, in: 'query', required: needed.includes(name), schema },
  }));
  return [...inPath, ...inQuery, ...inHead];
}

function operation(route: Route): Json {
  const { method, path, title, topic, scope, body, raw, who } = route;
  const people = `Who: ${whoWords(route)}.`;
  const scripts = scope === null ? 'Not for tokens.' : `Scope for tokens: \`${scope}\`.`;
  const content = body ? { 'application/json': { schema: schemaOf(body, 'input') } } : { [raw ?? '']: {} };
  return {
    operationId: `${method} ${path}`.replace(/[^A-Za-z0-9]+/g, '-').replace(/-+$/, ''),
    summary: title,
    description: `${people} ${scripts}`,
    tags: [topic],
    parameters: parametersOf(route),
    ...((body || raw) && { requestBody: { required: true, content } }),
    responses: answersOf(route),
    security: who === 'anyone' ? [] : [{ session: [] }, ...(scope === null ? [] : [{ token: [] }])],
    ...(scope !== null && { 'x-token-scope': scope }),
    ...(who !== 'anyone' && who !== 'account' && { 'x-operation': who }),
  };
}

/** The OpenAPI 3.1 document of everything in the table, from the schemas requests are read by. */
export function openApi(): Json {
  const paths: Record<string, Record<string, Json>> = {};
  for (const route of routes) {
    const path = route.path.replace(/:(\w+)/g, '{$1}');
    paths[path] = { ...paths[path], [route.method]: operation(route) };
  }
  return {
    openapi: '3.1.0',
    info: {
      title: 'Slipjoint',
      version: API_VERSION,
      description:
        'All values are SI unless a field says otherwise. Errors are application/problem+json with a `code` that never changes its meaning. ' +
        'A script sends `Authorization: Bearer sj_...`; nothing can be signed with a token.',
    },
    tags: [...new Set(routes.map(({ topic }) => topic))].map((name) => ({ name })),
    paths,
    components: {
      schemas: {
        Problem: {
          ...schemaOf(problemSchema, 'output'),
          description: Object.keys(errors).filter(isErrorCode).join(', '),
        },
      },
      securitySchemes: {
        session: { type: 'apiKey', in: 'cookie', name: 'slipjoint', description: 'Signed in with a browser.' },
        token: { type: 'http', scheme: 'bearer', description: 'A token of one job, with scopes and an end.' },
      },
    },
  };
}
