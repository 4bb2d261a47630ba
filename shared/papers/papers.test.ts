import { describe, expect, it } from 'vitest';
import { manyJoints, paperFacts } from '../../tests/support/paperFacts.ts';
import { gates } from '../gates/gates.ts';
import type { GateView } from '../gates/readiness.ts';
import type { Block, Paper } from './block.ts';
import { revisionWords, stateWords } from './facts.ts';
import { reviewPack } from './reviewPack.ts';
import { traveller } from './traveller.ts';
import { weldSheets } from './weldSheets.ts';

const anchor = { kind: 'place', at: [0, 0, 0] } as const;
const thread = (n: number, state: 'open' | 'resolved') => ({
  ...{ id: `t${n}`, n, by: 'a1', state, resolvedBy: null, anchor },
  comments: [{ id: '0', by: 'gone', text: `words of ${n}` }],
});
const of = <K extends Block['kind']>(paper: Paper, kind: K): readonly Extract<Block, { kind: K }>[] =>
  paper.blocks.filter((block): block is Extract<Block, { kind: K }> => block.kind === kind);
const said = (paper: Paper): string => JSON.stringify(paper.blocks);

describe('the traveller', () => {
  it('has a page, a code, boxes and a line for each signer for every gate in force', () => {
    const paper = traveller(paperFacts());
    expect(of(paper, 'heading').filter(({ level }) => level === 1)).toHaveLength(gates.length);
    expect(of(paper, 'code')).toHaveLength(gates.length);
    expect(of(paper, 'page')).toHaveLength(gates.length - 1);
    expect(of(paper, 'signs').map(({ lines }) => lines.map(({ role }) => role))).toEqual(
      gates.map(({ signs }) => signs),
    );
    expect(of(paper, 'boxes').map(({ items }) => items.length)).toEqual(gates.map(({ items }) => items.length));
  });

  it('says what was ticked by whom, what was measured, and leaves a line where nothing was', () => {
    const gap = 'joints.j1.rootGap';
    const ticked = { 'ticks.fit-up.faces': { done: true, by: 'a1', note: 'both' } };
    const boxes = (overrides: Readonly<Record<string, unknown>>) =>
      of(traveller(paperFacts(overrides)), 'boxes').flatMap(({ items }) => items);
    expect(boxes(ticked).find(({ ticked }) => ticked)?.by).toContain('ticked by Shop lead; note: both');
    const measured = (overrides: Readonly<Record<string, unknown>>) =>
      boxes(overrides).find(({ text }) => text.startsWith('Root gap'))?.by;
    expect(measured({ [gap]: 0.0001 })).toBe('measured: Runner 1 to collector: 0.10 mm');
    expect(measured({ [gap]: undefined })).toBe('measured: Runner 1 to collector: ________');
  });

  it('names a gate the job leaves out, with the reason, and gives it no page', () => {
    const facts = paperFacts();
    const plan = facts.plan.map((gate) =>
      gate.gate === 'mock-up' ? { ...gate, left: 'nothing to mock up here' } : gate,
    );
    const paper = traveller({ ...facts, plan });
    expect(said(paper)).toContain('Left out of this job: Mock-up. Reason: nothing to mock up here');
    expect(of(paper, 'code')).toHaveLength(gates.length - 1);
  });

  it('warns of what each gate can do to people, and defers to those who know', () => {
    for (const { gate, words } of [
      { gate: 'weld', words: 'ARGON SUFFOCATES' },
      { gate: 'as-printed', words: 'P3' },
      { gate: 'install', words: 'CARBON MONOXIDE' },
    ]) {
      const facts = paperFacts();
      const paper = traveller({ ...facts, gates: facts.gates.filter((view) => view.gate === gate) });
      const cautions = JSON.stringify(of(paper, 'caution'));
      expect(cautions).toContain(words);
      expect(cautions).toContain('qualified people');
    }
  });
});

describe('weld sheets', () => {
  it('come one a joint, in the order of welding', () => {
    const sheets = of(weldSheets(paperFacts(manyJoints(60))), 'heading').filter(({ level }) => level === 1);
    expect(sheets).toHaveLength(61);
    expect(sheets.slice(0, 2).map(({ text }) => text)).toEqual(['Joint Joint number 1', 'Joint Joint number 2']);
    expect(sheets.at(-1)?.text).toBe('Joint Runner 1 to collector');
  });
});

describe('the review pack', () => {
  it('says in place of each picture that none was sent', () => {
    const facts = paperFacts({}, { threads: [thread(1, 'open'), thread(2, 'resolved')] });
    const pictures = of(reviewPack(facts, new Map([['t2', 0]])), 'picture');
    expect(pictures.map(({ picture }) => picture)).toEqual([null, 0]);
    expect(pictures[0]?.without).toContain('No picture was sent');
    expect(said(reviewPack(facts))).toContain('somebody who left the job: words of 1');
  });

  it('lists what has to be done by role, and open markups with whom they wait for', () => {
    const paper = reviewPack(paperFacts({}, { threads: [thread(1, 'open'), thread(2, 'resolved')] }));
    const headings = of(paper, 'heading').map(({ text }) => text);
    expect(headings).toContain('For the welder');
    expect(headings).toContain('Markups that wait for an answer');
    expect(said(paper)).toContain('open, waits for Shop lead');
  });

  it('says of a value that was accepted out of its limits by whom and why', () => {
    const facts = paperFacts({ 'joints.j1.rootGap': 0.001 });
    const verdict = facts.verdicts.find(({ rule, status }) => rule === 'joint-gap' && status === 'fail')?.key ?? '';
    const concession = {
      ...{ id: 'c1', verdict, title: 'gap', value: '1.00 mm', limit: 'at most 0.25 mm', reason: 'filled by hand' },
      ...{ by: 'Shop lead', at: '2026-03-01T10:00:00.000Z', expires: null },
    };
    const pack = (state: string) => said(reviewPack({ ...facts, concessions: [{ ...concession, state }] }));
    expect(pack('in force')).toContain('ACCEPTED out of limits by Shop lead: filled by hand');
    expect(pack('lapsed: expired')).not.toContain('ACCEPTED');
  });
});

it('calls states of gates by words', () => {
  const view = (state: GateView['state']): string => stateWords({ ...paperFacts().gates[0], state } as GateView);
  const stale = { state: 'stale', stale: [], current: [], blockers: [], upstream: ['design'] } as const;
  expect(view(stale)).toBe('STALE: rests on gates that are not signed now: Design');
  expect(view({ state: 'not-in-force', left: 'no need' })).toBe('LEFT OUT of this job: no need');
  expect(view({ state: 'open', current: [], blockers: [{ kind: 'gate', gate: 'scan' }] })).toBe(
    'SHUT: 1 point to settle',
  );
});

it('names the revision, and that it was edited since', () => {
  const words = (revision: { letter: string; seq: number } | null): string =>
    revisionWords(paperFacts({}, { revision }));
  expect(words({ letter: 'B', seq: 41 })).toMatch(/^revision B, journal 41, rule set \d+$/);
  expect(words({ letter: 'B', seq: 40 })).toMatch(/^edited since revision B, journal 41/);
  expect(words(null)).toMatch(/^no revision yet, journal 41/);
});
