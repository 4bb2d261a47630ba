import type { Papers } from './http/parts.ts';
import type { Press } from './papers/press.ts';
import type { RoomRegistry } from './rooms/registry.ts';

/** Papers of the projects that are open, which are opened when they are not. */
export function livePapers({ print }: Pick<Press, 'print'>, rooms: RoomRegistry): Papers {
  return {
    print,
    threads: async (project) => (await rooms.open(project)).threads(),
    changes: async (project, after, limit) =>
      (await rooms.open(project)).changes.of({ project, limit, after: { seq: after, n: Number.MAX_SAFE_INTEGER } }),
  };
}
