import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { runCommand } from '../../server/cli/cli.fixture.ts';

interface Shown {
  readonly command: string;
  readonly lines: readonly string[];
}

/** Commands of the console blocks with the lines shown under each. */
function examples(page: string): readonly Shown[] {
  return [...page.matchAll(/```console\n([\s\S]*?)```/g)].flatMap(([, block = '']) =>
    block
      .split(/^\$ /m)
      .slice(1)
      .map((part) => {
        const [command = '', ...lines] = part.trimEnd().split('\n');
        return { command, lines };
      }),
  );
}

/** Lines shown that the output does not have, in order; `...` stands for any lines, elsewhere the next line must be the next. */
function missing(shown: readonly string[], output: readonly string[]): string[] {
  let at = 0;
  let anywhere = false;
  for (const line of shown) {
    if (line === '...') {
      anywhere = true;
      continue;
    }
    const found = anywhere ? output.indexOf(line, at) : output[at] === line ? at : -1;
    if (found < 0) return [line];
    at = found + 1;
    anywhere = false;
  }
  return anywhere || at === output.length ? [] : ['nothing more'];
}

const shown = examples(readFileSync('README.md', 'utf8'));

describe('the README', () => {
  it('shows each command there is to run on a file or by itself', () => {
    expect(new Set(shown.map(({ command }) => command.split(' ')[1]))).toEqual(
      new Set(['check', 'calc', 'rules', 'spec-schema']),
    );
  });

  it.each(shown.map(({ command, lines }) => [command, lines] as const))('$ %s', async (command, lines) => {
    const [program, ...words] = command.split(' ');
    expect(program).toBe('slipjoint');
    const { out, errors } = await runCommand(...words);
    expect(errors).toBe('');
    expect(missing(lines, out.split('\n'))).toEqual([]);
  });

  it('names the rules there are', async () => {
    const { out } = await runCommand('rules', '--json');
    expect(readFileSync('README.md', 'utf8')).toContain(`**${JSON.parse(out).rules.length} checks**`);
  });

  it.each([
    [['a', 'b'], ['a', 'b'], []],
    [['a'], ['a', 'b'], ['nothing more']],
    [['b'], ['a', 'b'], ['b']],
    [['...', 'b'], ['a', 'b'], []],
    [['a', '...'], ['a', 'b', 'c'], []],
    [['...', 'b', 'c'], ['a', 'b', 'x', 'c'], ['c']],
  ])('is compared line by line: %j with %j', (lines, output, expected) => {
    expect(missing(lines, output)).toEqual(expected);
  });
});
