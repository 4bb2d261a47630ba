import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { errors } from '../../shared/protocol/errors.ts';
import { nodesOf, type Placed, type SourceFile, sourceFiles } from './sourceFile.ts';

const shared = sourceFiles(['shared']);
const code = sourceFiles(['shared', 'server', 'web', 'prisma']);

const at = ({ path }: SourceFile, line: number) => `${path}:${line}`;

/** Places of a kind of node in some files. */
function places(files: readonly SourceFile[], wanted: (placed: Placed) => boolean): string[] {
  return files.flatMap((file) =>
    nodesOf(file)
      .filter(wanted)
      .map(({ line }) => at(file, line)),
  );
}

const isAny = ({ node }: Placed) => node.type === 'TsKeywordType' && node.kind === 'any';
/** `as const` is a node type of its own, `satisfies` too. */
const isCast = ({ node }: Placed) => ['TsAsExpression', 'TsTypeAssertion', 'TsNonNullExpression'].includes(node.type);

/** The one cast: brands are made there and nowhere else. */
const castAllowed = ['shared/units/si.ts'];

/** Longer than 40 lines, each with why it is not cut. */
const longFunctions: Readonly<Record<string, string>> = {
  'server/main.ts': 'the composition root is one list of what is made from what',
  'server/rooms/feed.ts': 'one socket server and the few one-line methods it is used by',
  'server/storage/embedded/project-records.ts': 'the invites of the records port, one method after the other',
};
/** Longer than 300 lines, each with why it is not cut. */
const longFiles: Readonly<Record<string, string>> = {};

const functionTypes = [
  'FunctionDeclaration',
  'FunctionExpression',
  'ArrowFunctionExpression',
  'ClassMethod',
  'PrivateMethod',
  'MethodProperty',
  'Constructor',
];

/** Lines that export something and have no doc comment above. */
function undocumented(file: SourceFile): string[] {
  const lines = file.text.split('\n');
  return lines.flatMap((text, index) => {
    if (!/^export (async |abstract )*(const|function|class|interface|type) /.test(text)) return [];
    return lines[index - 1]?.trimEnd().endsWith('*/') ? [] : [at(file, index + 1)];
  });
}

describe('shared', () => {
  it('says `any` nowhere', () => {
    expect(places(shared, isAny)).toEqual([]);
  });

  it('casts nowhere but where brands are made', () => {
    expect(
      places(
        shared.filter(({ path }) => !castAllowed.includes(path)),
        isCast,
      ),
    ).toEqual([]);
  });

  it('documents each export', () => {
    expect(shared.flatMap(undocumented)).toEqual([]);
  });

  it('has no clock and no chance', () => {
    const breach =
      /\bDate\.now\b|\bMath\.random\b|\bnew Date\(\)|\bperformance\.now\b|\bcrypto\.(randomUUID|getRandomValues)\b/;
    expect(matches(shared, breach)).toEqual([]);
  });
});

describe('sizes', () => {
  const sized = sourceFiles(['shared', 'server']);

  it('keeps modules within 300 lines', () => {
    const long = sized.filter(({ text }) => text.split('\n').length > 301).map(({ path }) => path);
    expect(long.filter((path) => !Object.hasOwn(longFiles, path))).toEqual([]);
    expect(
      Object.keys(longFiles).filter((path) => !long.includes(path)),
      'no longer long: take it off the list',
    ).toEqual([]);
  });

  it('keeps functions within 40 lines', () => {
    const long = sized.flatMap((file) =>
      nodesOf(file)
        .filter(({ node, lines }) => functionTypes.includes(node.type) && lines > 40)
        .map(({ line, lines }) => `${at(file, line)} has ${lines} lines`),
    );
    const listed = (place: string) => Object.keys(longFunctions).some((path) => place.startsWith(`${path}:`));
    expect(long.filter((place) => !listed(place))).toEqual([]);
    const stale = Object.keys(longFunctions).filter((path) => !long.some((place) => place.startsWith(`${path}:`)));
    expect(stale, 'no longer long: take it off the list').toEqual([]);
  });
});

describe('places', () => {
  it('has no drawers', () => {
    const drawers = sourceFiles(['shared', 'server', 'web', 'prisma', 'tests'], { tests: true })
      .map(({ path }) => path)
      .filter((path) =>
        path.split('/').some((part) => /^(utils?|helpers?|common|types|misc|lib)(\.tsx?)?$/.test(part)),
      );
    expect(drawers).toEqual([]);
  });

  it('reads the environment in one file', () => {
    expect(matches(code, /\bprocess\.env\b/).map((place) => place.replace(/:\d+$/, ''))).toEqual(['server/config.ts']);
  });
});

function matches(files: readonly SourceFile[], pattern: RegExp): string[] {
  return files.flatMap((file) =>
    file.text.split('\n').flatMap((line, index) => (pattern.test(line) ? [at(file, index + 1)] : [])),
  );
}

describe('the error table', () => {
  const users = code.filter(({ path }) => path !== 'shared/protocol/errors.ts');

  it.each(Object.keys(errors))('%s is given somewhere', (name) => {
    expect(users.some(({ text }) => new RegExp(`'${name}'|\\b${name}:`).test(text))).toBe(true);
  });
});

const pages = ['README.md', 'DEVELOPERS.md', ...ruleFolders().map((folder) => join(folder, 'rule.md'))];

function ruleFolders(): string[] {
  return shared.filter(({ path }) => /\/rules\/[^/]+\/[^/]+\/rule\.ts$/.test(path)).map(({ path }) => dirname(path));
}

describe('pages', () => {
  it.each(pages)('%s links to what is there', (page) => {
    const text = readFileSync(page, 'utf8');
    const links = [...text.matchAll(/\]\((?!https?:|#)([^)#]+)(#[^)]*)?\)/g)].map(([, link]) => link ?? '');
    expect(links.filter((link) => !existsSync(join(dirname(page), link)))).toEqual([]);
  });

  it.each(['README.md', 'DEVELOPERS.md'])('%s names only files and scripts that are there', (page) => {
    const text = readFileSync(page, 'utf8');
    const scripts: unknown = JSON.parse(readFileSync('package.json', 'utf8')).scripts;
    const named = [...text.matchAll(/npm run ([a-z:]+)/g)].map(([, script]) => script ?? '');
    expect(named.filter((script) => !Object.hasOwn(Object(scripts), script))).toEqual([]);
    const paths = [...text.matchAll(/`((?:shared|server|web|prisma|tests|\.config|\.ci)\/[A-Za-z0-9_./-]+)`/g)].map(
      ([, path]) => path ?? '',
    );
    expect(paths.filter((path) => !existsSync(path))).toEqual([]);
  });
});

describe('these tests can fail', () => {
  const sample = (text: string): SourceFile => ({ path: 'shared/sample.ts', text });

  it('finds casts and any, and not what is allowed', () => {
    const file = sample(
      'const a = b as const;\nconst c = b satisfies D;\nconst d = b as D;\nlet e: any;\nconst f = g!;\n',
    );
    expect(places([file], isCast)).toEqual(['shared/sample.ts:3', 'shared/sample.ts:5']);
    expect(places([file], isAny)).toEqual(['shared/sample.ts:4']);
  });

  it('counts lines of functions, whatever stands before them', () => {
    const file = sample('// a comment first, with a µ\n\nfunction a() {\n  b();\n}\n');
    const [found] = nodesOf(file).filter(({ node }) => node.type === 'FunctionDeclaration');
    expect(found).toMatchObject({ line: 3, lines: 3 });
  });

  it('misses no undocumented export', () => {
    expect(undocumented(sample('/** Has one. */\nexport const a = 1;\n\nexport function b() {}\n'))).toEqual([
      'shared/sample.ts:4',
    ]);
  });
});
