import { distance, type Vec3 } from '../geometry/vector.ts';
import { derive, type Known, unknown } from '../units/known.ts';
import { nodeTable } from './centreline.ts';
import type { FactContext } from './context.ts';

/** Distance between neighbouring ports, metres: the middle one of each port's distance to the nearest other. A single runner: out of validity. */
export function portPitch(context: FactContext): Known<number> {
  const { runners } = context.spec;
  return context.memo('port-pitch', [runners], () => {
    const tables = Object.fromEntries(runners.map((runner) => [runner.id, nodeTable(runner)]));
    return derive(tables, (found): Known<number> | number => {
      const ports = Object.values(found).flatMap(([first]) => (first ? [[first.x, first.y, first.z] as const] : []));
      const nearest = ports.map((port, i) => nearestOf(port, ports.toSpliced(i, 1))).sort((a, b) => a - b);
      const middle = nearest[Math.floor(nearest.length / 2)] ?? 0;
      if (Number.isFinite(middle) && middle > 0) return middle;
      const range: readonly [number, number] = [2, 16];
      return unknown({
        reason: 'outOfValidity',
        input: 'ports apart',
        value: ports.length === 1 ? 1 : 0,
        range,
        unit: 'count',
      });
    });
  });
}

const nearestOf = (port: Vec3, others: readonly Vec3[]): number =>
  others.reduce((least, other) => Math.min(least, distance(port, other)), Number.POSITIVE_INFINITY);
