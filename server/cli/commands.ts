import { calc } from './calc.ts';
import { check } from './check.ts';
import type { Console } from './console.ts';
import { processConsole } from './console.ts';
import { demo } from './demo.ts';
import { listRules } from './listRules.ts';
import { listMaterials } from './materials.ts';
import { serve } from './serve.ts';
import { specSchema } from './specSchema.ts';
import { step } from './step.ts';
import { verify } from './verify.ts';

/** A command: its words, what it does, and its run. */
interface Command {
  readonly usage: string;
  readonly help: string;
  readonly run: (args: readonly string[], out: Console) => Promise<number>;
}

const commands: Readonly<Record<string, Command>> = {
  serve: { usage: 'serve', help: 'start the server (PORT, HOST, ORIGIN, SLIPJOINT_DATA)', run: serve },
  demo: { usage: 'demo', help: 'start the server with the demo job in it', run: demo },
  check: {
    usage: 'check <spec.json> [--scan <component>=<file>]... [--part <piece>=<file>]... [--unit mm] [--json]',
    help: 'check a spec file; exit 0 all pass, 2 something fails or is unknown, 1 bad input',
    run: check,
  },
  materials: {
    usage: 'materials [name]... [--json]',
    help: 'list the data of the metals with range and source (SI units)',
    run: listMaterials,
  },
  rules: { usage: 'rules [--json]', help: 'list every rule with limit and source', run: listRules },
  calc: {
    usage: 'calc <formula> name=value... [--json]',
    help: 'compute one formula of the trade by itself; `calc` alone lists them',
    run: calc,
  },
  step: {
    usage: 'step <spec.json> <header.step>',
    help: 'write the runners as exact tubes in a STEP file',
    run: step,
  },
  verify: {
    usage: 'verify <record.json> | --proof <row.json> [--since <head.json>] [--key <hex>]... [--head <hex>]',
    help: 'verify a record, one row of it or its growth with no server: exit 0 sound, 2 not (names the first bad row), 1 bad input',
    run: verify,
  },
  'spec-schema': { usage: 'spec-schema', help: 'print the JSON Schema of the spec file', run: specSchema },
};

function usage(): string {
  const lines = Object.values(commands).map((c) => `  slipjoint ${c.usage}\n      ${c.help}`);
  return ['Usage:', ...lines].join('\n');
}

/** Runs a command line; the number is the exit code: 0 well, 1 bad input, 2 checked and not all pass. */
export async function parseCommand(args: readonly string[], out: Console = processConsole): Promise<number> {
  const [name, ...rest] = args;
  if (name === undefined || name === 'help' || name === '--help') {
    out.line(usage());
    return name === undefined ? 1 : 0;
  }
  const command = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (command) return command.run(rest, out);
  out.error(`slipjoint: expected one of ${Object.keys(commands).join(', ')}, got "${name}"\n${usage()}`);
  return 1;
}
