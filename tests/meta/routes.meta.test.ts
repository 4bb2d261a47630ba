import { beforeAll, expect, it } from 'vitest';
import { openApi } from '../../shared/protocol/openapi.ts';
import { routeOf, routes } from '../../shared/protocol/routes.ts';
import { type TestServer, testServer } from '../support/http-server.ts';

/** As far as routers can be looked into. */
interface Layer {
  readonly route?: { readonly path: string | readonly string[]; readonly methods: Readonly<Record<string, boolean>> };
  readonly handle?: { readonly stack?: readonly Layer[] };
  path?: string;
  match(path: string): boolean;
}

/** Where routers may be mounted; one mounted elsewhere is an error here, not a blind spot. */
const mounts = ['', '/api', '/api/uploads'];

function mountOf(layer: Layer): string {
  const found = mounts.find((mount) => layer.match(`${mount}/zzz`));
  if (found === undefined) throw new Error('a router is mounted where this test does not look');
  return found;
}

function walk(stack: readonly Layer[], base: string): string[] {
  return stack.flatMap((layer) => {
    if (layer.route) {
      const methods = Object.keys(layer.route.methods).filter((method) => layer.route?.methods[method]);
      const paths = [layer.route.path].flat();
      return paths.flatMap((path) => methods.map((method) => `${method} ${base}${path === '/' ? '' : path}`));
    }
    return layer.handle?.stack ? walk(layer.handle.stack, `${base}${mountOf(layer)}`) : [];
  });
}

let found: string[] = [];
beforeAll(async () => {
  const server: TestServer = await testServer();
  const { router } = server.http.app as unknown as { router: { stack: readonly Layer[] } };
  found = walk(router.stack, '');
  await server.close();
});

it('every route of the server stands in the table, and no other', () => {
  expect(found.length).toBeGreaterThan(60);
  expect([...new Set(found)].sort()).toEqual(routes.map(({ method, path }) => `${method} ${path}`).sort());
});

it('the table finds each of its rows by a request for it', () => {
  for (const route of routes) {
    const path = route.path.replace(/:\w+/g, 'x1');
    expect(routeOf(route.method.toUpperCase(), path), `${route.method} ${path}`).toBe(route);
  }
  expect(routeOf('POST', '/api/projects/x/papers/review-pack.pdf')?.body).toBeDefined();
  expect(routeOf('HEAD', '/api/projects/x/plan')?.path).toBe('/api/projects/:id/plan');
  expect(routeOf('GET', '/api/nothing')).toBeUndefined();
});

it('the description names every row once, with who and what may come back', () => {
  const document = openApi();
  expect(document.openapi).toBe('3.1.0');
  const paths = Object(document.paths) as Record<string, Record<string, Record<string, unknown>>>;
  const operations = Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ call: `${method} ${path}`, operation })),
  );
  expect(operations).toHaveLength(routes.length);
  expect(new Set(operations.map(({ operation }) => operation.operationId)).size).toBe(routes.length);
  for (const { call, operation } of operations) {
    const placeholders = [...call.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
    const parameters = operation.parameters as readonly { name: string; in: string }[];
    expect(parameters.filter((one) => one.in === 'path').map(({ name }) => name)).toEqual(placeholders);
    expect(Object.keys(Object(operation.responses)).length, call).toBeGreaterThan(0);
  }
  const signing = paths['/api/projects/{id}/gates/{gate}/signatures']?.post;
  expect(signing?.['x-token-scope']).toBeUndefined();
  expect(JSON.stringify(signing?.requestBody)).toContain('"password"');
});
