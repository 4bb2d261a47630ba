import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** The built server as a person starts it, with the demo job, in a data folder of its own. */
export interface DemoServer {
  readonly url: string;
  readonly job: string;
  password(login: string): string;
  /** SIGKILL: what a power cut leaves. */
  kill(): Promise<void>;
  /** Starts again on the same port and data. */
  restart(): Promise<void>;
  close(): Promise<void>;
}

/** The built command line. */
export const MAIN = new URL('../../dist/server/cli/main.js', import.meta.url).pathname;

interface Started {
  readonly child: ChildProcess;
  readonly output: string;
}

async function start(dataDir: string, port: string): Promise<Started> {
  const child = spawn(process.execPath, [MAIN, 'demo'], {
    env: { ...process.env, SLIPJOINT_DATA: dataDir, PORT: port },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let output = '';
  child.stdout.setEncoding('utf8');
  for await (const text of child.stdout) {
    output += text;
    if (/Demo job: \S+/.test(output)) return { child, output };
  }
  throw new Error(`the server ended before it was ready: ${output}`);
}

const find = (text: string, pattern: RegExp): string => {
  const found = pattern.exec(text)?.[1];
  if (found === undefined) throw new Error(`expected ${pattern} in the server's output, got: ${text}`);
  return found;
};

/** Measurements of the demo that the first story had made: they are named by content, so the others need not make them again. */
let measured: Buffer | undefined;

export async function startDemo(): Promise<DemoServer> {
  const dataDir = mkdtempSync(join(tmpdir(), 'slipjoint-browser-'));
  const measurements = join(dataDir, 'measurements.jsonl');
  if (measured) writeFileSync(measurements, measured);
  let { child, output } = await start(dataDir, '0');
  const first = output;
  const job = find(first, /Demo job: (\S+)/);
  const url = new URL(job).origin;
  const stop = async (signal: NodeJS.Signals): Promise<void> => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const ended = once(child, 'exit');
    child.kill(signal);
    await ended;
  };
  return {
    url,
    job,
    password: (login) => find(first, new RegExp(`^  ${login}\\s+(\\S+)`, 'm')),
    kill: () => stop('SIGKILL'),
    async restart() {
      ({ child, output } = await start(dataDir, new URL(url).port));
    },
    async close() {
      await stop('SIGTERM');
      if (existsSync(measurements)) measured ??= readFileSync(measurements);
      rmSync(dataDir, { recursive: true, force: true });
    },
  };
}
