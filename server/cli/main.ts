#!/usr/bin/env -S node --max-semi-space-size=128
import { parseCommand } from './commands.ts';

// A reader that has seen enough (`... | head`) closes the pipe: that is no failure.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(0);
  throw error;
});

process.exitCode = await parseCommand(process.argv.slice(2));
