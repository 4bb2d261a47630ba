import { describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { measuredAs } from '../../tests/support/measurements.ts';
import { seededRandom } from '../geometry/random.ts';
import { removeElement, replaceAll, setField, setLimit } from '../spec/commands.ts';
import { fieldAt } from '../spec/path.ts';
import { createSpecReader, readSpec } from '../spec/reader.ts';
import type { JobLimit } from '../spec/spec.ts';
import type { Rule } from './define.ts';
import { createEngine } from './engine.ts';
import { judge, type Limit } from './outcome.ts';
import { type Adjusted, limitProblems, overridden, overrideProblem } from './override.ts';
import { findRule, rules } from './registry.ts';
import type { Verdict } from './verdict.ts';

const measured = measuredAs();
const upper: Adjusted = { id: 'some-rule', quantity: 'ratio', adjustable: 'max' };
const lower: Adjusted = { ...upper, adjustable: 'min' };
const band: Adjusted = { ...upper, adjustable: 'range' };
const fixed: Adjusted = { ...upper, adjustable: false };

const row = (given: Partial<JobLimit>): JobLimit => ({
  id: 'some-rule',
  order: 1,
  least: undefined,
  most: undefined,
  reason: 'tried on the last car',
  ...given,
});
const max = (value: number): Limit => ({ kind: 'max', value });

type Content = Readonly<Record<string, unknown>>;

function verdictsOf(content: Content, some: readonly Rule[] = rules): ReadonlyMap<string, Verdict> {
  const engine = createEngine({ rules: some, measured });
  engine.evaluate(readSpec(baseEntries(content)));
  return engine.verdicts();
}

const limitEntries = (id: string, given: Content): Content => ({
  [`limits.${id}`]: 1,
  ...Object.fromEntries(Object.entries(given).map(([key, value]) => [`limits.${id}.${key}`, value])),
});

describe('a limit of the job', () => {
  it.each([
    ['looser: what failed passes', judge(1.1, { limit: max(1) }), upper, { most: 1.5 }, 'pass'],
    ['stricter: what passed fails', judge(0.9, { limit: max(1) }), upper, { most: 0.5 }, 'fail'],
    ['at the value: inside', judge(0.9, { limit: max(1) }), upper, { most: 0.9 }, 'pass'],
    ['a lower one', judge(0.9, { limit: { kind: 'min', value: 1 } }), lower, { least: 0.5 }, 'pass'],
    ['one end of a range', judge(5, { limit: { kind: 'range', low: 1, high: 4 } }), band, { most: 6 }, 'pass'],
    ['its other end stays', judge(0.5, { limit: { kind: 'range', low: 1, high: 4 } }), band, { most: 6 }, 'fail'],
    ['advice inside it stays', judge(0.9, { limit: max(1), advisory: max(0.8) }), upper, { most: 2 }, 'caution'],
    ['advice outside it goes', judge(0.6, { limit: max(1), advisory: max(0.8) }), upper, { most: 0.7 }, 'pass'],
  ] as const)('%s', (_, outcome, rule, given, status) => {
    const made = overridden(outcome, rule, row(given));
    expect(made.outcome.status).toBe(status);
    expect(made.override).toMatchObject({ reason: 'tried on the last car' });
  });

  it('keeps what the rule said beside its numbers, and the limit it stands in for', () => {
    const how = { limit: max(1), message: 'm', data: { a: 1 }, limitNote: 'n' } as const;
    expect(overridden(judge(0.9, how), upper, row({ most: 2 }))).toEqual({
      outcome: { ...judge(0.9, how), limit: max(2), margin: 1.1 },
      override: { reason: 'tried on the last car', was: max(1) },
    });
  });

  it.each([
    ['grows with the limit', { most: 2 }, 1.85, true],
    ['does not shrink with it', { most: 0.5 }, 0.41, true],
    ['and no more than it grew', { most: 2 }, 1.75, false],
  ])('a stated guard %s', (_, given, measured, close) => {
    const { outcome } = overridden(judge(measured, { limit: max(1), guard: 0.1 }), upper, row(given));
    expect(outcome).toMatchObject({ status: 'pass', close });
  });

  it('the default guard follows the limit', () => {
    const { outcome } = overridden(judge(1.93, { limit: max(1) }), upper, row({ most: 2 }));
    expect(outcome).toMatchObject({ status: 'pass', close: false });
    expect(overridden(judge(1.95, { limit: max(1) }), upper, row({ most: 2 })).outcome).toMatchObject({ close: true });
  });

  it('leaves what does not apply, what is not known and what has no limit of the job', () => {
    const no = { status: 'notApplicable', because: 'none' } as const;
    const why = { status: 'unknown', why: { reason: 'missing', paths: ['x'] } } as const;
    const made = judge(1, { limit: max(1) });
    expect(overridden(no, fixed, row({ most: 1 })).outcome).toBe(no);
    expect(overridden(why, upper, row({ most: 1 })).outcome).toBe(why);
    expect(overridden(made, upper, undefined)).toEqual({ outcome: made });
  });

  it('on an outcome that was not judged as the rule says is a fault, not a pass', () => {
    const made = judge(0.5, { limit: { kind: 'min', value: 0 } });
    expect(overridden(made, upper, row({ most: 1 })).outcome).toMatchObject({ why: { reason: 'fault' } });
    expect(overridden({ ...made }, lower, row({ least: 0 })).outcome).toMatchObject({ why: { reason: 'fault' } });
  });
});

describe('a limit of the job that cannot be used', () => {
  it.each([
    ['no reason', upper, { most: 1, reason: undefined }, 'missing', ['limits.some-rule.reason']],
    ['no number', upper, {}, 'missing', ['limits.some-rule.most']],
    ['no number of a range', band, {}, 'missing', ['limits.some-rule.least', 'limits.some-rule.most']],
    ['no finite number', upper, { most: Number.NaN }, 'expected a finite number, got NaN', ['limits.some-rule.most']],
    ['a broken other side', upper, { most: 1, least: Number.NaN }, 'finite number', ['limits.some-rule.least']],
    ['the wrong side', upper, { most: 1, least: 0 }, 'expected only "most"', ['limits.some-rule.least']],
    ['only the wrong side', lower, { most: 1 }, 'expected only "least"', ['limits.some-rule.most']],
    ['upside down', band, { least: 3, most: 2 }, 'got 2.00', ['limits.some-rule.least', 'limits.some-rule.most']],
    ['a rule that allows none', fixed, { most: 1 }, 'follows from the job, a standard', ['limits.some-rule']],
    ['no such rule', null, { most: 1 }, 'expected the id of a rule, got some-rule', ['limits.some-rule']],
  ] as const)('%s', (_, rule, given, words, paths) => {
    const why = overrideProblem(row(given), rule);
    expect(JSON.stringify(why).replaceAll('\\"', '"')).toContain(words);
    expect(why).toMatchObject({ paths });
    if (!rule) return;
    const made = overridden(judge(0.5, { limit: max(1) }), rule, row(given));
    expect(made).toEqual({ outcome: { status: 'unknown', why } });
  });

  it('above the end of the range that stays', () => {
    const made = overridden(judge(2, { limit: { kind: 'range', low: 1, high: 4 } }), band, row({ least: 5 }));
    expect(made.outcome).toMatchObject({ status: 'unknown', why: { reason: 'inconsistent' } });
  });

  it('is unknown in a spec, even where the rule alone would pass, and keeps the gate shut', () => {
    for (const [id, given] of [
      ['runner-mach', { most: 0.5 }],
      ['runner-mach', { most: 'x', reason: 'r' }],
      ['hoop-stress', { most: 1e8, reason: 'r' }],
    ] as const) {
      const verdicts = [...verdictsOf(limitEntries(id, given)).values()].filter((v) => v.rule === id);
      expect(verdicts.length).toBeGreaterThan(0);
      for (const verdict of verdicts) {
        expect(verdict).toMatchObject({ status: 'unknown', severity: 'block' });
        expect(JSON.stringify(verdict)).toContain(`limits.${id}`);
      }
    }
  });

  it('is listed with its reason, also where no rule has such an id', () => {
    const spec = readSpec(
      baseEntries({
        ...limitEntries('runner-mach', { most: 0.5, reason: 'r' }),
        ...limitEntries('no-such-rule', { most: 1, reason: 'r' }),
        ...limitEntries('bend-tightness', { least: 1 }),
      }),
    );
    expect(limitProblems(spec, findRule).map(({ row: { id } }) => id)).toEqual(['bend-tightness', 'no-such-rule']);
  });
});

const adjustable = rules.filter((rule) => rule.adjustable !== false);

/** Entries of the base spec a rule reads, some of them scaled. */
function shaken(rule: Rule, random: () => number): Content {
  const out: Record<string, unknown> = {};
  for (const [path, value] of baseEntries()) {
    const read = rule.branches.some((branch) => path.startsWith(`${branch}.`));
    if (read && typeof value === 'number' && fieldAt(path)?.kind === 'quantity' && random() < 0.3)
      out[path] = value * (0.4 + 1.2 * random());
  }
  return out;
}

const asLimit = (limit: Limit): Content =>
  limit.kind === 'range'
    ? { least: limit.low, most: limit.high }
    : { [limit.kind === 'max' ? 'most' : 'least']: limit.value };

const plain = ({ override: _, digest: __, ...verdict }: Verdict) => verdict;

describe('every rule whose limit may be set', () => {
  it('is one whose limit is from practice, memory or our own', () => {
    expect(adjustable.length).toBeGreaterThan(10);
    for (const rule of adjustable) expect(['practice', 'memory', 'own'], rule.id).toContain(rule.source.trust);
  });

  it.each(adjustable.map((rule) => [rule.id, rule] as const))(
    '%s: the default, set, changes only the note',
    (id, rule) => {
      const random = seededRandom(7);
      const seen = new Set<string>();
      for (let i = 0; i < 40; i++) {
        const content = i === 0 ? {} : shaken(rule, random);
        const before = verdictsOf(content, [rule]);
        const probe = verdictsOf({ ...content, ...limitEntries(id, { ...asLimit(probeOf(rule)), reason: 'r' }) }, [
          rule,
        ]);
        for (const [key, verdict] of before) {
          seen.add(verdict.status);
          const was = probe.get(key)?.override?.was;
          if (!was) {
            expect(['unknown', 'notApplicable']).toContain(verdict.status);
            continue;
          }
          const set = verdictsOf({ ...content, ...limitEntries(id, { ...asLimit(was), reason: 'as ever' }) }, [rule]);
          const after = set.get(key);
          if (!after) throw new Error(`no verdict ${key}`);
          expect(plain(after)).toEqual(plain(verdict));
          expect(after.override).toEqual({ reason: 'as ever', was });
          expect(after.digest).not.toBe(verdict.digest);
        }
      }
      expect(seen).toContain('pass');
    },
  );
});

/** Any limit of the kind of a rule, to learn its own one by. */
function probeOf(rule: Rule): Limit {
  if (rule.adjustable === 'range') return { kind: 'range', low: -1, high: 1e9 };
  return { kind: rule.adjustable === 'min' ? 'min' : 'max', value: 1 };
}

function world(content: Content = {}) {
  const doc = new Y.Doc();
  replaceAll(doc, baseEntries(content));
  const reader = createSpecReader(doc);
  const engine = createEngine({ rules, measured });
  engine.evaluate(reader.current());
  return { doc, reader, engine };
}

describe('an engine', () => {
  it('judges again only the rule whose limit was set, changed or taken back', () => {
    const { doc, reader, engine } = world();
    const first = new Map(engine.verdicts());
    const steps: readonly (() => void)[] = [
      () => setLimit(doc, 'runner-mach', { most: 0.5, reason: 'r' }),
      () => setLimit(doc, 'runner-mach', { most: 0.5, reason: 'another' }),
      () => setLimit(doc, 'runner-mach', { most: 0.4, reason: 'another' }),
      () => removeElement(doc, 'limits.runner-mach'),
    ];
    for (const step of steps) {
      const before = engine.evaluations();
      step();
      const { changed, cleared } = engine.evaluate(reader.current());
      expect(new Set(changed.map((v) => v.rule))).toEqual(new Set(['runner-mach']));
      expect(cleared).toEqual([]);
      expect(engine.evaluations() - before).toBe(2);
      const fresh = createEngine({ rules, measured });
      fresh.evaluate(reader.current());
      expect(engine.verdicts()).toEqual(fresh.verdicts());
    }
    expect(engine.verdicts()).toEqual(first);
  });

  it('does not judge a rule with a limit of the job again for what it does not read', () => {
    const { doc, reader, engine } = world(limitEntries('heat-input', { most: 4e5, reason: 'r' }));
    setField(doc, 'turbo.mass', 5);
    const { changed } = engine.evaluate(reader.current());
    expect(changed.map((v) => v.rule)).not.toContain('heat-input');
    expect(changed.length).toBeGreaterThan(0);
  });
});
