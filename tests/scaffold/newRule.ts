// `npm run new:rule -- <gate>/<rule-id>`: writes the three files of a rule, with the headings and the rows it must have, and its line in
// the registry. What is written fails the tests on purpose until it is filled in: nothing that was forgotten passes.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gateIds, isGateId } from '../../shared/spec/gateId.ts';

const camel = (id: string) => id.replace(/-(.)/g, (_, letter: string) => letter.toUpperCase());

function ruleSource(gate: string, id: string): string {
  return `import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';

/** FILL IN: what is judged, in one line. */
export const ${camel(id)} = defineRule({
  id: '${id}',
  gate: '${gate}',
  title: '',
  severity: 'block',
  adjustable: false,
  branches: ['tube'],
  cost: 'cheap',
  quantity: 'length',
  limit: '',
  source: { document: '', trust: 'uncertain' },
  validity: '',
  hazard: '',
  remedy: '',
  messages: {},
  since: 1,
  subjects: () => [{ kind: 'job', id: 'header', name: 'Header' }],
  reads: ({ spec }) => ({ wall: at<number>('tube.wall', spec.tube.wall) }),
  evaluate: ({ wall }) => judge(wall, { limit: { kind: 'min', value: Number.NaN } }),
});
`;
}

/** Headings of a rule's page, in their order. */
export const pageHeadings = [
  'What it checks',
  'Why it matters',
  'Limit and source',
  'Inputs',
  'Fails',
  'Passes',
  'Validity and known limits',
  'When a concession is reasonable',
  'Related',
];

const page = (id: string) => `# ${id}\n\n${pageHeadings.map((heading) => `## ${heading}\n`).join('\n')}`;

function tableSource(id: string): string {
  const row = (kind: string, name: string, status: string) =>
    `  { kind: '${kind}', name: '${name}', subject, expect: '${status}' },`;
  return `import { ruleTable } from '../../../../tests/support/ruleTable.ts';
import { ${camel(id)} } from './rule.ts';

const subject = 'header';

ruleTable(${camel(id)}, [
${row('pass', 'FILL IN: passes with room to spare', 'pass')}
${row('fail', 'FILL IN: fails', 'fail')}
  // A boundary row: what moves, from inside to outside, and where the limit lies.
  {
    kind: 'boundary',
    name: 'FILL IN: the limit',
    subject,
    move: 'tube.wall',
    inside: Number.NaN,
    outside: Number.NaN,
    expectInside: 'pass',
    expectOutside: 'fail',
    limit: Number.NaN,
    at: Number.NaN,
  },
${row('validity', 'FILL IN: one row for each bound of validity', 'unknown')}
  // A worked example somebody published, or our own with its derivation.
  { kind: 'published', name: 'FILL IN', subject, expect: 'pass', value: Number.NaN, tolerance: 1e-6, citation: '' },
]);
`;
}

/** Adds a rule's import and its place in the list, both in order. */
function registered(text: string, gate: string, id: string): string {
  const line = `import { ${camel(id)} } from './${gate}/${id}/rule.ts';`;
  const imports = [...text.matchAll(/^import \{ \w+ \} from '\.\/[a-z-]+\/[a-z-]+\/rule\.ts';$/gm)].map(([one]) => one);
  const folder = (one: string) => one.slice(one.indexOf("'"));
  // Other imports may stand between: the line goes before the first rule that follows it, else after the last.
  const next = imports.find((one) => folder(one) > folder(line));
  const last = imports.at(-1) ?? '';
  const withImport = next ? text.replace(next, `${line}\n${next}`) : text.replace(last, `${last}\n${line}`);
  return withImport.replace(
    /(rules: readonly Rule\[\] = \[\n)([\s\S]*?)(\n\];)/,
    (_, open: string, list: string, close: string) => {
      const names = [...list.split('\n').map((one) => one.trim()), `${camel(id)},`].sort();
      return `${open}${names.map((name) => `  ${name}`).join('\n')}${close}`;
    },
  );
}

/** Writes the rule under a project's top; the problem when it cannot. */
export function newRule(top: string, word: string): string | null {
  const [, gate, id] = /^([a-z-]+)\/([a-z]+(?:-[a-z]+)+)$/.exec(word) ?? [];
  if (gate === undefined || id === undefined || !isGateId(gate))
    return `expected <gate>/<thing>-<check>, gate one of ${gateIds.join(', ')}; got "${word}"`;
  const rules = join(top, 'shared/rules');
  const registry = join(rules, 'registry.ts');
  const before = readFileSync(registry, 'utf8');
  if (before.includes(`/${id}/rule.ts'`)) return `expected a new rule, ${id} is in the registry already`;
  const folder = join(rules, gate, id);
  if (existsSync(folder)) return `expected a new rule, shared/rules/${gate}/${id} is there already`;
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'rule.ts'), ruleSource(gate, id));
  writeFileSync(join(folder, 'rule.md'), page(id));
  writeFileSync(join(folder, 'rule.test.ts'), tableSource(id));
  writeFileSync(registry, registered(before, gate, id));
  return null;
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const [word = ''] = process.argv.slice(2);
  const problem = newRule('.', word);
  process.stdout.write(
    problem === null
      ? `Written: shared/rules/${word}. Its tests fail until everything marked is filled in.\n`
      : `new:rule: ${problem}\n`,
  );
  process.exitCode = problem === null ? 0 : 1;
}
