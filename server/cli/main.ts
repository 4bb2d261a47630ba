#!/usr/bin/env node
import { parseCommand } from './commands.ts';

process.exitCode = await parseCommand(process.argv.slice(2));
