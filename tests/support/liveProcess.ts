import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));

/** The server in a process of its own, as people run it. */
export interface ServerProcess {
  readonly origin: string;
  readonly child: ChildProcess;
  /** What it was started from. */
  readonly from: 'dist' | 'source';
  /** SIGKILL; resolves once it is gone. */
  kill(): Promise<void>;
  /** SIGTERM; resolves with its exit code. */
  stop(): Promise<number | null>;
}

/** A port nobody listens on at this moment. */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  return typeof address === 'object' && address ? address.port : 0;
}

function newest(folder: string): number {
  let at = 0;
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true }))
    if (entry.isFile() && !entry.name.endsWith('.test.ts'))
      at = Math.max(at, statSync(join(entry.parentPath, entry.name)).mtimeMs);
  return at;
}

type Program = { readonly args: readonly string[]; readonly from: 'dist' | 'source' };
let chosen: Program | undefined;

/** The same for as long as a test runs: what is started again is what was stopped. */
function command(): Program {
  chosen ??= choose();
  return chosen;
}

/** The build, when there is one that is not older than its source. */
function choose(): Program {
  const built = join(root, 'dist/server/cli/main.js');
  const fresh =
    existsSync(built) && statSync(built).mtimeMs > Math.max(newest(`${root}server`), newest(`${root}shared`));
  return fresh
    ? { args: [built], from: 'dist' }
    : { args: ['--import', 'tsx', join(root, 'server/cli/main.ts')], from: 'source' };
}

/** What `npm start` tells the engine: room for short-lived objects, so that fewer edits wait for it to be cleared. */
function engineFlags(): readonly string[] {
  const { scripts }: { scripts: { start: string } } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  return scripts.start.split(' ').filter((word) => word.startsWith('--'));
}

/** Starts `serve` on a data folder and waits until it listens. */
export async function spawnServer(at: { readonly dataDir: string; readonly port: number }): Promise<ServerProcess> {
  const { args, from } = command();
  const child = spawn(process.execPath, [...engineFlags(), ...args, 'serve'], {
    cwd: root,
    env: { ...process.env, SLIPJOINT_DATA: at.dataDir, PORT: String(at.port), HOST: '127.0.0.1', ORIGIN: '' },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const gone = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  let said = '';
  await new Promise<void>((resolve, reject) => {
    const hear = (data: Buffer): void => {
      said += data.toString();
      if (said.includes('Slipjoint is at')) resolve();
    };
    child.stdout?.on('data', hear);
    child.stderr?.on('data', hear);
    void gone.then((code) => reject(new Error(`the server ended with ${code} before it listened:\n${said}`)));
  });
  const end = async (signal: 'SIGKILL' | 'SIGTERM'): Promise<number | null> => {
    child.kill(signal);
    return gone;
  };
  return {
    ...{ child, from, origin: `http://127.0.0.1:${at.port}` },
    kill: async () => void (await end('SIGKILL')),
    stop: () => end('SIGTERM'),
  };
}
