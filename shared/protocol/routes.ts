import { peopleRoutes } from './peopleRoutes.ts';
import type { Route } from './route.ts';
import { workRoutes } from './workRoutes.ts';

/** Everything the server answers over HTTP, but the files of the app. A route that is not here is not for scripts, and no test passes. */
export const routes: readonly Route[] = [...peopleRoutes, ...workRoutes];

interface Matcher {
  readonly route: Route;
  readonly segments: readonly string[];
}

const matchers: readonly Matcher[] = routes.map((route) => ({ route, segments: split(route.path) }));

function split(path: string): readonly string[] {
  return path.split('/').filter((part) => part !== '');
}

/** The row for a request, undefined when there is none. A fixed name wins over a place for any. */
export function routeOf(method: string, path: string): Route | undefined {
  const segments = split(path);
  const name = method.toLowerCase();
  const fitting = matchers.filter(
    (one) =>
      (one.route.method === name || (name === 'head' && one.route.method === 'get')) &&
      one.segments.length === segments.length &&
      one.segments.every((part, i) => part.startsWith(':') || part.toLowerCase() === segments[i]?.toLowerCase()),
  );
  const wild = (one: Matcher): number => one.segments.filter((part) => part.startsWith(':')).length;
  const exact = fitting.filter(({ route }) => route.method === name);
  return [...(exact.length > 0 ? exact : fitting)].sort((a, b) => wild(a) - wild(b))[0]?.route;
}
