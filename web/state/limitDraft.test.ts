import { describe, expect, it } from 'vitest';
import { findRule } from '../../shared/rules/registry.ts';
import type { JobLimit } from '../../shared/spec/spec.ts';
import { draftOf, readDraft } from './limitDraft.ts';

function rule(id: string) {
  const found = findRule(id);
  if (!found) throw new Error(`no rule ${id}`);
  return found;
}

const [clearance, preload, spread] = [rule('runner-clearance'), rule('stud-preload'), rule('runner-length-spread')];
const row = (given: Partial<JobLimit>): JobLimit => ({
  id: 'runner-clearance',
  order: 1,
  least: undefined,
  most: undefined,
  reason: undefined,
  ...given,
});
const draft = { least: '', most: '', reason: 'tight bay' };

describe('the form of a limit', () => {
  it.each([
    ['display unit', clearance, { ...draft, least: '5' }, { least: 0.005, reason: 'tight bay' }],
    ['another unit', clearance, { ...draft, least: ' 0.25 in ' }, { least: 0.00635, reason: 'tight bay' }],
    ['the side its rule has not is left', clearance, { ...draft, least: '5', most: '9' }, { least: 0.005 }],
    ['per cent', spread, { ...draft, most: '12 %' }, { most: 0.12 }],
    ['one end of a range', preload, { ...draft, most: '80' }, { most: 0.8 }],
    ['both ends', preload, { ...draft, least: '40', most: '80' }, { least: 0.4, most: 0.8 }],
  ])('reads %s', (_, of, given, values) => {
    const read = readDraft(of, given, undefined);
    expect(read).toMatchObject({ ok: true, values });
    if (read.ok && of === clearance) expect('most' in read.values).toBe(false);
  });

  it.each([
    ['no number', clearance, draft, /expected a limit, got nothing/],
    ['no reason', clearance, { ...draft, least: '5', reason: ' ' }, /^Reason: expected some text/],
    ['too long a reason', clearance, { ...draft, least: '5', reason: 'x'.repeat(201) }, /at most 200 characters/],
    ['a wrong unit', clearance, { ...draft, least: '5 kg' }, /kg/],
    ['words', clearance, { ...draft, least: 'five' }, /expected/],
    ['upside down', preload, { ...draft, least: '80', most: '40' }, /not to be above the most, got 40\.0 %/],
  ])('refuses %s', (_, of, given, problem) => {
    const read = readDraft(of, given, undefined);
    expect(read.ok ? 'was taken' : read.problem).toMatch(problem);
  });

  it('shows what is set, and an untouched number keeps all its digits', () => {
    const set = row({ least: 0.0051234567, reason: 'r' });
    const shown = draftOf(clearance, set);
    expect(shown).toEqual({ least: '5.12', most: '', reason: 'r' });
    expect(readDraft(clearance, { ...shown, reason: 'better' }, set)).toMatchObject({
      values: { least: 0.0051234567, reason: 'better' },
    });
    expect(draftOf(clearance, row({ least: Number.NaN }))).toEqual({ least: '', most: '', reason: '' });
    expect(draftOf(clearance, undefined)).toEqual({ least: '', most: '', reason: '' });
  });
});
