import { demoProject, seedDemo } from '../demo.ts';
import type { Console } from './console.ts';
import { startFromEnvironment, untilStopped } from './serve.ts';

/** Serves with the demo job. The first time its accounts are made and their passwords printed, once. */
export async function demo(args: readonly string[], out: Console): Promise<number> {
  if (args.length > 0) {
    out.error(`demo: expected no arguments, got ${args.join(' ')}`);
    return 1;
  }
  const server = await startFromEnvironment(out);
  if (!server) return 1;
  const seeded = await seedDemo(server);
  const project = seeded?.project ?? (await demoProject(server));
  if (seeded) {
    out.line('Demo accounts, shown this once (login, password, role):');
    for (const a of seeded.accounts) out.line(`  ${a.login.padEnd(10)} ${a.password.padEnd(40)} ${a.roles.join(', ')}`);
  } else out.line('The demo job is there already; its passwords were shown when it was made.');
  out.line(`Slipjoint is at ${server.url}`);
  out.line(`Demo job: ${server.url}/j/${project ?? ''}`);
  await untilStopped(server);
  return 0;
}
