import { readConfig } from '../config.ts';
import { builtWeb, type RunningServer, startServer } from '../main.ts';
import type { Console } from './console.ts';

/** Starts a server from the environment; null, with the reasons written, when it cannot. */
export async function startFromEnvironment(out: Console): Promise<RunningServer | null> {
  const read = readConfig();
  if (!read.ok) {
    for (const problem of read.problems) out.error(problem);
    return null;
  }
  const webDir = builtWeb();
  if (webDir === undefined) out.error('The web app is not built (npm run build): only the API answers.');
  try {
    return await startServer({ config: read.config, ...(webDir !== undefined && { webDir }) });
  } catch (error) {
    out.error(`The server could not start: ${error instanceof Error ? error.message : String(error)}`);
    return null;
  }
}

/** Waits for SIGINT or SIGTERM, then closes in order. */
export async function untilStopped(server: RunningServer): Promise<void> {
  await new Promise<void>((resolve) => {
    process.once('SIGINT', resolve);
    process.once('SIGTERM', resolve);
  });
  await server.close();
}

/** Serves until told to stop. The first account needs the code printed here. */
export async function serve(args: readonly string[], out: Console): Promise<number> {
  if (args.length > 0) {
    out.error(
      `serve: expected no arguments (settings come from PORT, HOST, ORIGIN, SLIPJOINT_DATA), got ${args.join(' ')}`,
    );
    return 1;
  }
  const server = await startFromEnvironment(out);
  if (!server) return 1;
  out.line(`Slipjoint is at ${server.url}`);
  if (server.setupCode !== undefined)
    out.line(`No account yet. Open it and use this setup code once: ${server.setupCode}`);
  await untilStopped(server);
  return 0;
}
