import { expect, it } from 'vitest';
import { materialKeys } from '../../shared/trade/data/materials.ts';
import { parseCommand } from './commands.ts';

async function run(...args: string[]): Promise<{ code: number; lines: string[]; errors: string[] }> {
  const [lines, errors]: [string[], string[]] = [[], []];
  const code = await parseCommand(['materials', ...args], { line: (t) => lines.push(t), error: (t) => errors.push(t) });
  return { code, lines, errors };
}

it('lists every metal, each property with its range and its source', async () => {
  const { code, lines } = await run();
  expect(code).toBe(0);
  expect(lines.filter((l) => !l.startsWith(' '))).toEqual([...materialKeys]);
  for (const line of lines.filter((l) => l.startsWith(' '))) {
    expect(line).toMatch(
      /^ {2}\w+ +-?[\d.]+ to -?[\d.]+ C: .+, .+ \((read in an excerpt|from memory|common practice, no source|own derivation|uncertain, confirm first)\)$/,
    );
  }
});

it('narrows to the metals named, and prints them as data', async () => {
  const { code, lines } = await run('625', '--json');
  expect(code).toBe(0);
  const data: Record<string, { expansion: { rows: number[][] } }> = JSON.parse(lines.join('\n'));
  expect(Object.keys(data)).toEqual(['625']);
  // Alloy 625, mean expansion from 20 C to 93 C: 12.8e-6 (SMC-063, read in an excerpt).
  expect(data['625']?.expansion.rows.find(([t]) => t === 93)?.[1]).toBe(12.8);
});

it('says what it expected', async () => {
  expect(await run('unobtainium')).toMatchObject({ code: 1, errors: [expect.stringContaining('got "unobtainium"')] });
  expect((await run('--nonsense')).code).toBe(1);
});
