import { describe, expect, it } from 'vitest';
import type { Limit } from '../rules/outcome.ts';
import type { Verdict } from '../rules/verdict.ts';
import {
  type Concession,
  type ConcessionWish,
  concessionViews,
  concessionWords,
  isWorse,
  mayConcede,
  nextExpiry,
  standingOf,
} from './concession.ts';

const most = (value: number): Limit => ({ kind: 'max', value });
const least = (value: number): Limit => ({ kind: 'min', value });
const range: Limit = { kind: 'range', low: 1, high: 2 };

const fail = (measured: number, limit: Limit = least(0.006)): Verdict => ({
  ...{ status: 'fail', measured, limit, margin: -1, key: 'gap/r1', rule: 'gap', gate: 'design', severity: 'block' },
  ...{ subject: { kind: 'runner', id: 'r1', name: 'Runner 1' }, digest: 'a'.repeat(16) },
});
const pass: Verdict = { ...fail(1), status: 'pass', close: false } as Verdict;
const unknown = { ...fail(1), status: 'unknown', why: { reason: 'missing', paths: [] } } as Verdict;

const granted: Concession = {
  ...{ id: 'c1', verdict: 'gap/r1', gate: 'design', title: 'Keep a gap: Runner 1', quantity: 'length', value: 0.004 },
  ...{ limit: least(0.006), reason: 'shield is fitted', by: { account: 'a', name: 'Lee' }, at: '', hash: 'h' },
  expires: null,
};
const at = '2026-03-01T00:00:00.000Z';
const NOON = Date.parse(at);
const end = { reason: 'shield is gone', by: granted.by, at };

describe('worse than accepted', () => {
  it.each<readonly [string, Limit, number, number, boolean]>([
    ['below a least', least(6), 4, 3.9, true],
    ['nearer to a least', least(6), 4, 4.1, false],
    ['the same', least(6), 4, 4, false],
    ['the same but for the last bits', least(6), 4, 4 - 4e-12, false],
    ['above a most', most(6), 7, 7.1, true],
    ['nearer to a most', most(6), 7, 6.5, false],
    ['further above a range', range, 2.5, 2.6, true],
    ['nearer above a range', range, 2.5, 2.1, false],
    ['further below a range', range, 0.5, 0.4, true],
    ['out of a range on its other side', range, 2.5, 0.9, true],
    ['out of a range on its other side, upwards', range, 0.5, 2.1, true],
    ['both below nothing', most(-5), -4, -3.9, true],
  ])('%s', (_, limit, accepted, now, worse) => {
    expect(isWorse(now, accepted, limit)).toBe(worse);
  });
});

describe('where a concession stands', () => {
  it.each<readonly [string, Concession, Verdict | undefined, string]>([
    ['holds for what was accepted', granted, fail(0.004), 'in-force'],
    ['holds for something better', granted, fail(0.005), 'in-force'],
    ['until its end', { ...granted, expires: '2026-03-01T00:00:00.001Z' }, fail(0.004), 'in-force'],
    ['at its end', { ...granted, expires: at }, fail(0.004), 'expired'],
    ['with an end nobody can read', { ...granted, expires: 'soon' }, fail(0.004), 'expired'],
    ['taken back', { ...granted, ended: end }, fail(0.004), 'ended'],
    ['something worse', granted, fail(0.0039), 'worse'],
    ['another limit', granted, fail(0.004, least(0.005)), 'limit-moved'],
    ['a limit of another kind', granted, fail(0.004, most(0.006)), 'limit-moved'],
    ['a value inside its limit', granted, pass, 'unneeded'],
    ['what it was about is gone', granted, undefined, 'unneeded'],
    ['an unknown is never accepted', granted, unknown, 'waits'],
  ])('%s', (_, concession, verdict, expected) => {
    const standing = standingOf(concession, verdict, NOON);
    expect(standing.standing === 'lapsed' ? standing.because : standing.standing).toBe(expected);
  });

  it('of two for the same verdict only the later can hold, also when that one was ended', () => {
    const later = { ...granted, id: 'c2', value: 0.003 };
    const standings = (list: readonly Concession[]) =>
      concessionViews(list, [fail(0.0045)], NOON).map(({ standing: s }) =>
        s.standing === 'lapsed' ? s.because : s.standing,
      );
    expect(standings([granted, later])).toEqual(['replaced', 'in-force']);
    expect(standings([granted, { ...later, ended: end }])).toEqual(['replaced', 'ended']);
    expect(standings([{ ...granted, verdict: 'gap/r2' }, later])).toEqual(['unneeded', 'in-force']);
  });

  it('knows when the next one runs out', () => {
    const until = (expires: string | null, more: Partial<Concession> = {}) => ({ ...granted, expires, ...more });
    const late = '2026-03-02T00:00:00.000Z';
    expect(nextExpiry([until(null)], NOON)).toBeNull();
    expect(nextExpiry([until(at), until(late)], NOON)).toBe(Date.parse(late));
    expect(nextExpiry([until(late, { ended: end })], NOON)).toBeNull();
  });

  it('says what was accepted with units', () => {
    expect(concessionWords(granted)).toMatch(
      /^Keep a gap: Runner 1: 4(\.0+)? mm accepted, the limit is at least 6(\.0+)? mm$/,
    );
  });
});

describe('mayConcede', () => {
  const wish: ConcessionWish = { id: 'new1', verdict: 'gap/r1', seen: 'a'.repeat(16), expires: null, held: ['lead'] };
  const given = { verdicts: [fail(0.004)], concessions: [] as Concession[], now: NOON };

  it('lets a lead accept what is there now', () => {
    expect(mayConcede(wish, given)).toMatchObject({ ok: true, verdict: { measured: 0.004 } });
    expect(mayConcede({ ...wish, expires: '2026-03-01T00:00:01.000Z' }, given)).toMatchObject({ ok: true });
    expect(mayConcede(wish, { ...given, concessions: [{ ...granted, ended: end }] })).toMatchObject({ ok: true });
    expect(mayConcede(wish, { ...given, concessions: [{ ...granted, value: 0.005 }] })).toMatchObject({ ok: true });
  });

  it.each<readonly [string, Partial<ConcessionWish>, Partial<typeof given>, string]>([
    ['no lead', { held: ['designer', 'welder'] }, {}, 'wrong-role'],
    ['no role', { held: [] }, {}, 'wrong-role'],
    ['no such check', { verdict: 'gap/r9' }, {}, 'nothing-to-accept'],
    ['a value inside', {}, { verdicts: [pass] }, 'nothing-to-accept'],
    ['an unknown', {}, { verdicts: [unknown] }, 'nothing-to-accept'],
    ['advice', {}, { verdicts: [{ ...fail(0.004), severity: 'advise' }] }, 'nothing-to-accept'],
    ['another value than was looked at', { seen: 'b'.repeat(16) }, {}, 'facts-moved'],
    ['an end that is now', { expires: at }, {}, 'already-over'],
    ['one that is accepted', {}, { concessions: [granted] }, 'already-accepted'],
    ['the same request again', { id: 'c1' }, { concessions: [{ ...granted, ended: end }] }, 'already-accepted'],
  ])('refuses %s', (_, over, more, code) => {
    expect(mayConcede({ ...wish, ...over }, { ...given, ...more })).toMatchObject({ ok: false, code });
  });
});
