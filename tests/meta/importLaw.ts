import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { cruise, type ICruiseOptions, type ICruiseResult, type IForbiddenRuleType } from 'dependency-cruiser';
import { mirrorImports } from './importList.ts';

/** One broken edge. */
export interface Breach {
  readonly law: string;
  readonly from: string;
  readonly to: string;
}

interface Law {
  readonly forbidden: IForbiddenRuleType[];
  readonly options: ICruiseOptions;
}

/** What was looked at and what broke the law. */
export interface Held {
  readonly modules: number;
  readonly breaches: readonly Breach[];
}

/** Fewer modules than this and the tool was blind, not the code clean: it sees nothing when it has no compiler for TypeScript. */
export const LEAST_MODULES = 100;

/** The law as written at the top of the project. */
export async function readLaw(): Promise<Law> {
  const { default: law }: { default: Law } = await import(pathToFileURL('.dependency-cruiser.mjs').href);
  return law;
}

/** Holds the folders under a base against the law. */
export async function hold(base: string, folders: readonly string[]): Promise<Held> {
  const { forbidden, options } = await readLaw();
  const mirror = mkdtempSync(join(tmpdir(), 'slipjoint-law-'));
  try {
    mirrorImports(base, folders, mirror);
    const { output } = await cruise([...folders], {
      ...options,
      baseDir: mirror,
      ruleSet: { forbidden },
      validate: true,
    });
    if (typeof output === 'string') throw new Error(output);
    return result(output);
  } finally {
    rmSync(mirror, { recursive: true, force: true });
  }
}

function result({ modules, summary }: ICruiseResult): Held {
  return {
    modules: modules.filter(({ source }) => /\.tsx?$/.test(source) && !source.includes('node_modules')).length,
    breaches: summary.violations.map(({ rule, from, to }) => ({ law: rule.name, from, to })),
  };
}

async function report(): Promise<number> {
  const { modules, breaches } = await hold('.', ['shared', 'server', 'web', 'prisma', 'tests']);
  const { forbidden } = await readLaw();
  for (const { law, from, to } of breaches) {
    const why = forbidden.find((edge) => edge.name === law)?.comment;
    process.stdout.write(`${law}: ${from} -> ${to}\n  ${why}\n`);
  }
  process.stdout.write(`${modules} modules, ${forbidden.length} laws, ${breaches.length} broken\n`);
  if (modules >= LEAST_MODULES) return breaches.length === 0 ? 0 : 1;
  process.stdout.write(`Expected at least ${LEAST_MODULES} modules: the tool did not see the code.\n`);
  return 1;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) process.exitCode = await report();
