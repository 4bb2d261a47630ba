import type { Branch, Spec } from '../../shared/spec/spec.ts';

/** A spec that notes which values are read, and throws when a branch is read that was not declared. */
export interface WatchedSpec {
  readonly spec: Spec;
  /** Paths of values read so far, such as `tube.wall` or `runners.r1.nodes.n2.x`. */
  readonly reads: ReadonlySet<string>;
  /** Branches looked at so far. */
  readonly branches: ReadonlySet<string>;
}

/** Wraps a spec so that only the declared branches can be read, and where some fields of one are declared only those. */
export function watchedSpec(
  spec: Spec,
  branches: readonly Branch[],
  fields: Readonly<Record<string, readonly string[] | undefined>> = {},
): WatchedSpec {
  const reads = new Set<string>();
  const touched = new Set<string>();
  const declared = new Set<string>(branches);
  const wrapped = new Map<object, object>();
  const wrap = (target: object, path: string): object => {
    const before = wrapped.get(target);
    if (before) return before;
    // A fresh target: a frozen one would forbid handing out wrapped members.
    const proxy = new Proxy(Array.isArray(target) ? [...target] : { ...target }, {
      get(copy, key) {
        const value = Reflect.get(copy, key);
        if (typeof key === 'symbol' || typeof value === 'function') return value;
        if (fields[path]?.includes(key) === false) throw new Error(`undeclared field "${path}.${key}" was read`);
        return member(value, pathOf(target, path, key));
      },
    });
    wrapped.set(target, proxy);
    return proxy;
  };
  const member = (value: unknown, path: string): unknown => {
    if (Array.isArray(value) && value.every((v) => typeof v !== 'object')) reads.add(path);
    else if (typeof value === 'object' && value !== null) return wrap(value, path);
    else reads.add(path);
    return value;
  };
  const watched = new Proxy(
    { ...spec },
    {
      get(copy, key) {
        if (typeof key === 'string' && key in spec && !declared.has(key))
          throw new Error(`undeclared branch "${key}" was read`);
        if (typeof key === 'string') touched.add(key);
        const value = Reflect.get(copy, key);
        return typeof value === 'object' && value !== null ? wrap(value, String(key)) : value;
      },
    },
  );
  return { spec: watched, reads, branches: touched };
}

/** Rows of a list are addressed by id, as the spec's own paths are. */
function pathOf(target: object, path: string, key: string): string {
  if (!Array.isArray(target)) return `${path}.${key}`;
  const row: unknown = target[Number(key)];
  return typeof row === 'object' && row !== null && 'id' in row ? `${path}.${String(row.id)}` : `${path}.${key}`;
}
