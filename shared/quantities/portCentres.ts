import type { Vec3 } from '../geometry/vector.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';

/** Middle of each runner's port: its first node, metres. Without a runner: missing. */
export function portCentres({ spec: { runners }, memo }: FactContext): Known<readonly Vec3[]> {
  return memo('port-centres', [runners], () => {
    if (runners.length === 0) return unknown({ reason: 'missing', paths: ['runners'] });
    const centres = Object.fromEntries(runners.map(({ id, nodes }) => [id, firstOf(id, nodes[0])]));
    return derive(centres, (all) => Object.values(all));
  });
}

type Node = { readonly id: string } & Readonly<Record<'x' | 'y' | 'z', number | undefined>>;

function firstOf(runner: string, node: Node | undefined): Known<Vec3> {
  if (!node) return unknown({ reason: 'missing', paths: [`runners.${runner}.nodes`] });
  const path = `runners.${runner}.nodes.${node.id}`;
  return derive(
    { x: at<number>(`${path}.x`, node.x), y: at<number>(`${path}.y`, node.y), z: at<number>(`${path}.z`, node.z) },
    ({ x, y, z }) => known<Vec3>([x, y, z]),
  );
}
