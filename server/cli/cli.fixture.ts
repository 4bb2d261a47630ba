import { parseCommand } from './commands.ts';

/** What a command line printed, and its exit code. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly errors: string;
}

/** Runs a command line as the program does, its words already split. */
export async function runCommand(...words: readonly string[]): Promise<Ran> {
  const out: string[] = [];
  const errors: string[] = [];
  const code = await parseCommand(words, {
    line: (text) => void out.push(text),
    error: (text) => void errors.push(text),
  });
  return { code, out: out.join('\n'), errors: errors.join('\n') };
}
