import { expect } from 'vitest';
import { printPaper } from '../../server/papers/print.ts';
import type { Paper, PaperSize } from '../../shared/papers/block.ts';
import type { PaperFacts } from '../../shared/papers/facts.ts';
import { purgeSheet } from '../../shared/papers/purgeSheet.ts';
import { reviewPack } from '../../shared/papers/reviewPack.ts';
import { traveller } from '../../shared/papers/traveller.ts';
import { weldSheets } from '../../shared/papers/weldSheets.ts';
import { hostileNames, manyJoints, paperFacts } from '../support/paperFacts.ts';
import { judgedBy } from './judge.ts';
import { checked, paperJudge, sheetCodes, sheetTexts } from './paperPrograms.ts';

const judged = judgedBy(paperJudge);
const makers = { traveller, weldSheets, purgeSheet, reviewPack };
const sizes: readonly PaperSize[] = ['a4', 'letter'];
const nothing = { 'joints.j1': undefined, 'purges.p1': undefined };

/** A job in which everybody and everything has a name that nobody should have. */
function hostileFacts(): PaperFacts {
  const [text = '', ...more] = hostileNames;
  const threads = hostileNames.map((words, i) => ({
    ...{ id: `t${i}`, n: i + 1, by: 'a1', state: 'open' as const, resolvedBy: null },
    anchor: { kind: 'place' as const, at: [0, 0, 0] as const },
    comments: [text, ...more].map((one, n) => ({ id: String(n), by: 'a1', text: `${one} ${words}` })),
  }));
  const note = 'n'.repeat(400);
  return paperFacts(
    { 'joints.j1.name': '=1+2', 'ticks.weld.cleaned': { done: true, by: 'a1', note } },
    { project: { id: 'x', name: hostileNames.join(' ') }, names: { a1: hostileNames.join('') }, threads },
  );
}

const jobs: Readonly<Record<string, () => PaperFacts>> = {
  'the base job': () => paperFacts(),
  'a job without runners and joints': () =>
    paperFacts({ ...nothing, 'runners.r1': undefined, 'runners.r2': undefined }),
  'hostile names': hostileFacts,
  'sixty joints': () => paperFacts(manyJoints(60)),
};

const coded = (paper: Paper): readonly string[] =>
  paper.blocks.flatMap((block) => (block.kind === 'code' ? [block.url] : []));

for (const [job, facts] of Object.entries(jobs))
  for (const size of sizes)
    judged(`every paper of ${job} on ${size} is a sound file, its head on each sheet`, async () => {
      for (const [name, make] of Object.entries(makers)) {
        const bytes = await printPaper(make(facts()), size);
        expect(checked(bytes), name).toContain('No syntax or stream encoding errors found');
        const sheets = sheetTexts(bytes);
        for (const [i, text] of sheets.entries()) {
          expect(text, name).toContain(`page ${i + 1} of ${sheets.length}`);
          expect(text, name).toContain('0123 4567 89ab cdef 0123 4567 89ab cdef');
          expect(text, name).toContain('2026-03-02 08:05 UTC');
          expect(text, name).toContain('Uncontrolled when printed');
        }
      }
    });

for (const size of sizes)
  judged(`every code on every sheet reads back as it was written, on ${size}`, async () => {
    for (const [name, make] of Object.entries(makers)) {
      const paper = make(paperFacts());
      const read = sheetCodes(await printPaper(paper, size)).flat();
      expect(read, name).toEqual(coded(paper));
      if (name !== 'reviewPack') expect(read.length, name).toBeGreaterThan(0);
    }
  });

judged('the values of the job stand on its papers', async () => {
  const text = async (paper: Paper): Promise<string> => sheetTexts(await printPaper(paper, 'a4')).join('\n');
  const sheet = await text(weldSheets(paperFacts()));
  for (const words of [
    'Runner 1 to collector',
    'ERNiCrMo-3',
    '55 A',
    '2.00 mm',
    '10.5 V',
    '0.217 kJ/mm',
    'at most 0.500',
  ])
    expect(sheet).toContain(words);
  const purge = await text(purgeSheet(paperFacts()));
  expect(purge.indexOf('ARGON SUFFOCATES')).toBeLessThan(purge.indexOf('Purge volume'));
  for (const words of ['100 ppm', '15.0 L/min', 'Changes of gas in the stated time']) expect(purge).toContain(words);
  const round = await text(
    traveller(paperFacts({ 'ticks.weld.cleaned': { done: true, by: 'a1', note: 'both ends' } })),
  );
  for (const words of [
    'ticked by Shop lead',
    'both ends',
    'SHUT',
    'released, STALE',
    'ARGON SUFFOCATES',
    'CARBON MONOXIDE',
  ])
    expect(round).toContain(words);
});

judged('a job with nothing in it says so, and warns all the same', async () => {
  const empty = paperFacts({ ...nothing, 'runners.r1': undefined, 'runners.r2': undefined });
  const text = async (paper: Paper): Promise<string> => sheetTexts(await printPaper(paper, 'letter')).join('\n');
  expect(await text(weldSheets(empty))).toMatch(/has no joints[\s\S]*ARGON SUFFOCATES/);
  expect(await text(purgeSheet(empty))).toMatch(/ARGON SUFFOCATES[\s\S]*has no purge volumes/);
});

judged('the same paper prints as the same bytes', async () => {
  for (const make of Object.values(makers)) {
    const [one, two] = [await printPaper(make(paperFacts()), 'a4'), await printPaper(make(paperFacts()), 'a4')];
    expect(Buffer.compare(one, two)).toBe(0);
  }
});

judged('a table that goes over sheets has its head on each', async () => {
  const sheets = sheetTexts(await printPaper(reviewPack(paperFacts(manyJoints(60))), 'letter'));
  const inTables = sheets.filter((text) => text.includes('PASS, spare'));
  expect(inTables.length).toBeGreaterThan(5);
  for (const text of inTables) expect(text).toContain('Check, subject');
});
