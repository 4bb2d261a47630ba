import { describe, expect, it } from 'vitest';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { gateDigest, gateFacts } from '../gates/coverage.ts';
import { defaultPlan } from '../gates/plan.ts';
import { RULE_SET, rules } from '../rules/registry.ts';
import { readSpec } from '../spec/reader.ts';
import { type EntryChanged, staleSince } from './staleSince.ts';

const basis = { plan: defaultPlan, conceded: [] };
const wall = 'joints.j1.wall';

function asked(changes: readonly EntryChanged[], printedWith: Readonly<Record<string, unknown>> = {}): number | null {
  const printed = baseEntries(printedWith);
  const facts = gateFacts('weld', readSpec(printed), rules, basis);
  const digest = gateDigest('weld', facts, RULE_SET).slice(0, 16);
  const entries = baseEntries();
  for (const { path, after } of changes) {
    if (after === undefined) entries.delete(path);
    else entries.set(path, after);
  }
  return staleSince({ gate: 'weld', digest, entries, changes, ...basis });
}

const change = (seq: number, path: string, before: unknown, after: unknown): EntryChanged => ({
  ...{ seq, path, before, after, at: seq * 1000 },
});

describe('since when a paper is stale', () => {
  it('is the first entry that moved a fact of the gate', () => {
    expect(
      asked([change(5, 'project.car', 'old', 'new'), change(6, wall, 0.002, 0.0025), change(7, wall, 0.0025, 0.003)]),
    ).toBe(6000);
  });

  it('counts from the first move even where it was taken back in between', () => {
    expect(asked([change(5, wall, 0.002, 0.003), change(6, wall, 0.003, 0.002), change(7, wall, 0.002, 0.004)])).toBe(
      5000,
    );
  });

  it('sees a field that was emptied', () => {
    expect(asked([change(9, wall, 0.002, undefined)])).toBe(9000);
  });

  it('takes an entry of the journal as one step', () => {
    expect(asked([change(5, wall, 0.002, 0.003), change(5, wall, 0.003, 0.002), change(6, wall, 0.002, 0.004)])).toBe(
      6000,
    );
  });

  it('is not told when the changes do not lead back to what was printed', () => {
    expect(asked([change(6, wall, 0.002, 0.003)], { [wall]: 0.001 })).toBeNull();
  });

  it('is not told when the time was not kept', () => {
    expect(asked([{ ...change(6, wall, 0.002, 0.003), at: null }])).toBeNull();
  });
});
