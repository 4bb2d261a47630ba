import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Breach, hold, LEAST_MODULES, readLaw } from './importLaw.ts';
import { importsOf } from './importList.ts';

/** For each law a file that breaks it and what that file imports (from the top of the project, or a package). */
const broken: Readonly<Record<string, readonly [file: string, imported: string]>> = {
  'shared-units': ['shared/units/a.ts', 'shared/spec/leaf.ts'],
  'shared-spec': ['shared/spec/a.ts', 'shared/trade/leaf.ts'],
  'shared-trade': ['shared/trade/a.ts', 'shared/geometry/leaf.ts'],
  'shared-geometry': ['shared/geometry/a.ts', 'shared/spec/leaf.ts'],
  'shared-quantities': ['shared/quantities/a.ts', 'shared/rules/leaf.ts'],
  'shared-rules': ['shared/rules/a.ts', 'shared/gates/leaf.ts'],
  'shared-gates': ['shared/gates/a.ts', 'shared/markup/leaf.ts'],
  'shared-markup': ['shared/markup/a.ts', 'shared/gates/leaf.ts'],
  'shared-protocol': ['shared/protocol/a.ts', 'shared/record/leaf.ts'],
  'shared-record': ['shared/record/a.ts', 'shared/papers/leaf.ts'],
  'shared-papers': ['shared/papers/a.ts', 'shared/other/leaf.ts'],
  'shared-is-pure': ['shared/rules/b.ts', 'server/main.ts'],
  'shared-no-node': ['shared/units/b.ts', 'node:fs'],
  'web-not-server': ['web/app.tsx', 'server/main.ts'],
  'server-not-web': ['server/web.ts', 'web/ui/leaf.ts'],
  'prisma-only-shared': ['prisma/demo/a.ts', 'server/main.ts'],
  'nothing-built-from-tests': ['server/rooms/a.ts', 'tests/support/leaf.ts'],
  'rule-not-rule': ['shared/rules/weld/one-rule/rule.ts', 'shared/rules/design/other-rule/rule.ts'],
  'only-yjs': ['shared/rules/c.ts', 'yjs'],
  'only-y-websocket': ['web/state/a.ts', 'y-websocket'],
  'only-y-protocols': ['server/rooms/b.ts', 'y-protocols/sync'],
  'only-socket-io': ['web/panels/a.tsx', 'socket.io-client'],
  'only-express': ['server/rooms/c.ts', 'express'],
  'only-ws': ['server/http/a.ts', 'ws'],
  'only-database': ['server/rooms/d.ts', 'better-sqlite3'],
  'only-three': ['web/panels/b.tsx', 'three'],
  'only-passkeys': ['server/http/pk.ts', '@simplewebauthn/server'],
  'only-photos': ['server/http/ph.ts', 'sharp'],
  'only-pdf': ['server/http/c.ts', 'pdfkit'],
  'only-mail': ['server/http/d.ts', 'nodemailer'],
  'only-codec': ['web/state/c.ts', 'meshoptimizer/decoder'],
  'only-react': ['web/scene/a.ts', 'react'],
  'only-zod': ['shared/spec/b.ts', 'zod'],
  'generated-client-in-storage': ['server/rooms/e.ts', 'prisma/generated/client.ts'],
  'demo-data-by-demo': ['web/state/b.ts', 'prisma/demo/leaf.ts'],
  'scene-judges-nothing': ['web/scene/b.ts', 'shared/rules/leaf.ts'],
  'scene-opens-nothing': ['web/scene/c.ts', 'web/sync/leaf.ts'],
  'ui-is-dumb': ['web/ui/a.tsx', 'web/state/leaf.ts'],
  'http-touches-no-document': ['server/http/b.ts', 'server/sync/leaf.ts'],
  'rooms-know-no-host': ['server/rooms/f.ts', 'server/http/leaf.ts'],
  'storage-knows-no-host': ['server/storage/a.ts', 'server/rooms/leaf.ts'],
  'measure-knows-no-host': ['server/measure/a.ts', 'server/storage/leaf.ts'],
  'revisions-know-no-host': ['server/revisions/a.ts', 'server/rooms/leaf.ts'],
  'notices-know-no-host': ['server/notices/a.ts', 'server/rooms/leaf.ts'],
  'papers-know-no-host': ['server/papers/a.ts', 'server/rooms/leaf.ts'],
  'only-http-and-cli-at-the-edge': ['server/record/a.ts', 'server/http/leaf.ts'],
  'nothing-on-the-command-line': ['server/record/b.ts', 'server/cli/leaf.ts'],
  'no-circle': ['server/circle.ts', 'server/circle.ts'],
  found: ['server/lost.ts', 'server/nowhere.ts'],
};

const folders = ['shared', 'server', 'web', 'prisma', 'tests'];
let base = '';
let caught: readonly Breach[] = [];

function write(file: string, text: string): void {
  mkdirSync(dirname(join(base, file)), { recursive: true });
  writeFileSync(join(base, file), text);
}

beforeAll(async () => {
  base = mkdtempSync(join(tmpdir(), 'slipjoint-edges-'));
  for (const [law, [file, imported]] of Object.entries(broken)) {
    const local = imported.includes('/') && imported.endsWith('.ts');
    const up = '../'.repeat(file.split('/').length - 1);
    // Every second edge is a type import: those count too.
    write(file, `import ${law.length % 2 ? 'type ' : ''}{ one } from '${local ? `${up}${imported}` : imported}';\n`);
    if (local && law !== 'found' && imported !== file) write(imported, 'export {};\n');
  }
  caught = (await hold(base, folders)).breaches;
}, 60_000);

afterAll(() => rmSync(base, { recursive: true, force: true }));

describe('the import law', () => {
  it('has a broken edge here for each of its lines, and none besides', async () => {
    const names = (await readLaw()).forbidden.map((edge) => edge.name);
    expect(Object.keys(broken).sort()).toEqual(names.sort());
  });

  it.each(Object.entries(broken))('catches %s', (law, [file]) => {
    expect(caught.filter((one) => one.law === law).map((one) => one.from)).toContain(file);
  });

  it('gives a reason for each line', async () => {
    for (const { name, comment } of (await readLaw()).forbidden) expect(comment?.length, name).toBeGreaterThan(30);
  });

  it('lets tests look where they must', async () => {
    write('shared/units/a.test.ts', "import { one } from '../../tests/support/leaf.ts';\n");
    const { breaches } = await hold(base, folders);
    expect(breaches.filter((one) => one.from.endsWith('.test.ts'))).toEqual([]);
  }, 60_000);

  it('is kept by this project, and the tool saw the project', async () => {
    const { modules, breaches } = await hold('.', folders);
    expect(breaches).toEqual([]);
    expect(modules).toBeGreaterThan(LEAST_MODULES);
  }, 60_000);
});

it('reads every way a module can be named', () => {
  const source = `import a from 'one'; import type { b } from 'two'; export * from 'three'; export { c } from 'four';
import 'five'; const d = () => import('six'); type E = import('seven').E; let f: typeof import('eight');`;
  expect([...importsOf(source, { tsx: false })].sort()).toEqual([
    'eight',
    'five',
    'four',
    'one',
    'seven',
    'six',
    'three',
    'two',
  ]);
});
