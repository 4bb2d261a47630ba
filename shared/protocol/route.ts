import type { z } from 'zod';
import type { ErrorCode } from './errors.ts';
import type { Operation } from './roles.ts';
import type { TokenScope } from './tokens.ts';

/** HTTP methods as the routers and OpenAPI write them. */
export type Method = 'get' | 'post' | 'put' | 'patch' | 'delete' | 'head' | 'options';

/** One thing the server answers over HTTP. */
export interface Route {
  readonly method: Method;
  /** As routers write it: `/api/projects/:id/plan`. */
  readonly path: string;
  readonly title: string;
  /** Under which heading it is described. */
  readonly topic: string;
  /** Who may: anyone, whoever is signed in, or a member with a role that allows the operation. */
  readonly who: 'anyone' | 'account' | Operation;
  /** Only a member who holds the role lead, besides. */
  readonly lead?: true;
  /** Scope a token needs; null: not for tokens. */
  readonly scope: TokenScope | null;
  readonly body?: z.ZodType;
  /** Media type of a body that is no JSON. */
  readonly raw?: string;
  readonly query?: z.ZodType;
  /** Headers that mean something here. */
  readonly headers?: readonly string[];
  /** What comes back by status: a shape, a media type of something else than JSON, or nothing. */
  readonly answers: Readonly<Record<number, z.ZodType | string | null>>;
  /** Refusals of its own, besides those of everything with that `who`. */
  readonly refusals: readonly ErrorCode[];
  /** Sent in crowds by the app: counts a tenth. */
  readonly light?: true;
}

type Told = Partial<Omit<Route, 'method' | 'path' | 'title' | 'topic'>>;

/** A row of the table: `get /plan`. What nothing is said of is answered as JSON with 200 and refused in no way of its own. */
export type Row = (call: `${Method} ${string}`, title: string, told?: Told) => Route;

/** Rows under one heading and address, for the same people and scope. */
export function rows(at: {
  readonly topic: string;
  readonly base: string;
  readonly who: Route['who'];
  readonly scope: TokenScope | null;
}): Row {
  const { topic, base, who, scope } = at;
  return (call, title, told = {}) => {
    const [name = '', path = ''] = call.split(' ');
    const method = methods.find((one) => one === name) ?? 'get';
    return { method, path: `${base}${path}`, title, topic, who, scope, answers: { 200: null }, refusals: [], ...told };
  };
}

const methods: readonly Method[] = ['get', 'post', 'put', 'patch', 'delete', 'head', 'options'];
/** Any JSON, where no shape is written down. */
export const json = 'application/json';
