import { describe, expect, it } from 'vitest';
import type { FactContext } from '../quantities/context.ts';
import { MemoStore } from '../quantities/context.ts';
import { readSpec } from '../spec/reader.ts';
import type { Spec } from '../spec/spec.ts';
import { at, type Known, known, restingOn, unknown } from '../units/known.ts';
import { defineRule, type Kept, type RuleDefinition, verdictKey } from './define.ts';
import { judge } from './outcome.ts';
import type { Subject } from './verdict.ts';

type One = RuleDefinition<Subject, { readonly value: Known<number> }>;

const job: Subject = { kind: 'job', id: 'job', name: 'The job' };

const definition: One = {
  id: 'invented-limit',
  gate: 'design',
  title: 'Limit an invented number',
  severity: 'block',
  adjustable: 'max',
  branches: ['engine'],
  cost: 'cheap',
  quantity: 'ratio',
  limit: 'at most 1',
  source: { document: 'invented for tests', trust: 'own' },
  validity: 'tests only',
  hazard: 'none',
  remedy: 'none',
  messages: {},
  since: 1,
  subjects: () => [job],
  reads: ({ spec }) => ({ value: at<number>('engine.lambda', spec.engine.lambda) }),
  evaluate: ({ value }) => judge(value, { limit: { kind: 'max', value: 1 } }),
};

const specOf = (entries: Readonly<Record<string, unknown>>): Spec => readSpec(new Map(Object.entries(entries)));
const contextOf = (spec: Spec): FactContext => ({
  spec,
  measured: { measure: () => unknown({ reason: 'pending', job: 'none' }) },
  memo: new MemoStore().memo,
});

function run(change: Partial<One>, spec: Spec, kept: ReadonlyMap<string, Kept> = new Map()) {
  let counted = 0;
  const out = defineRule({ ...definition, ...change }).run(contextOf(spec), kept, () => {
    counted += 1;
  });
  return { out, counted, verdict: out.get('invented-limit/job')?.verdict };
}

const lean = specOf({ 'engine.lambda': 1.2 });
const rich = specOf({ 'engine.lambda': 0.8 });

describe('a rule', () => {
  it('also reads the limits of the job, after its own branches', () => {
    expect(defineRule(definition).branches).toEqual(['engine', 'limits']);
  });

  it('stamps its verdict with rule, gate, severity, subject and a digest of 16 hex digits', () => {
    const { verdict, counted } = run({}, rich);
    expect(counted).toBe(1);
    expect(verdict).toMatchObject({
      ...{ status: 'pass', measured: 0.8, key: 'invented-limit/job', rule: 'invented-limit', gate: 'design' },
      ...{ severity: 'block', subject: job },
    });
    expect(verdict?.digest).toMatch(/^[0-9a-f]{16}$/);
    expect(verdict).not.toHaveProperty('override');
    expect(verdict).not.toHaveProperty('grounds');
    expect(verdictKey('a', 'b')).toBe('a/b');
  });

  it('carries of its subject only what may travel', () => {
    const subject = { ...job, secret: 'row' };
    expect(run({ subjects: () => [subject] }, rich).verdict?.subject).toEqual(job);
  });

  it('that only advises cautions where another fails, and passes and lacks data as any other', () => {
    expect(run({}, lean).verdict?.status).toBe('fail');
    expect(run({ severity: 'advise' }, lean).verdict?.status).toBe('caution');
    expect(run({ severity: 'advise' }, rich).verdict?.status).toBe('pass');
    expect(run({ severity: 'advise' }, specOf({})).verdict?.status).toBe('unknown');
  });

  it('without a fact is unknown by its path, and its evaluation is not asked', () => {
    const evaluate = () => {
      throw new Error('must not be asked');
    };
    expect(run({ evaluate }, specOf({})).verdict).toMatchObject({
      status: 'unknown',
      why: { reason: 'missing', paths: ['engine.lambda'] },
    });
  });
});

describe('a fault of a rule is an unknown that names it', () => {
  const boom = () => {
    throw new Error('boom');
  };
  const why = { reason: 'fault', detail: 'rule invented-limit: Error: boom' } as const;

  it('while judging, and while reading', () => {
    expect(run({ evaluate: boom }, rich).verdict).toMatchObject({ status: 'unknown', why });
    const reading = run({ reads: boom }, rich);
    expect(reading.verdict).toMatchObject({ status: 'unknown', why });
    expect(reading.out.get('invented-limit/job')?.inputs).toEqual({ reads: unknown(why) });
  });

  it('while looking for subjects: one verdict about the whole rule', () => {
    const { out, counted } = run({ subjects: boom }, rich);
    expect(counted).toBe(1);
    expect([...out.keys()]).toEqual(['invented-limit/subjects']);
    expect(out.get('invented-limit/subjects')?.verdict).toMatchObject({
      ...{ status: 'unknown', why },
      subject: { kind: 'job', id: 'subjects', name: 'Limit an invented number' },
    });
  });
});

describe('a kept verdict', () => {
  const again = (change: Partial<One>, spec: Spec, first: Partial<One> = {}) => {
    const before = run(first, rich);
    const after = run(change, spec, before.out);
    return { same: after.verdict === before.verdict, counted: after.counted };
  };

  it('is given back while no input moved, though the spec is another one', () => {
    expect(again({}, specOf({ 'engine.lambda': 0.8, 'tube.wall': 0.002 }))).toEqual({ same: true, counted: 0 });
  });

  it('is made again when an input moved, came or went', () => {
    expect(again({}, lean)).toEqual({ same: false, counted: 1 });
    const more = () => ({ value: known(0.8), more: known(1) });
    expect(again({ reads: more }, rich)).toEqual({ same: false, counted: 1 });
    expect(again({}, rich, { reads: more })).toEqual({ same: false, counted: 1 });
    const other = () => ({ value: known(0.8), other: known(1) });
    expect(again({ reads: other }, rich, { reads: more })).toEqual({ same: false, counted: 1 });
  });

  it('is made again when its subject is called otherwise or is of another kind', () => {
    expect(again({ subjects: () => [{ ...job, name: 'Another' }] }, rich)).toEqual({ same: false, counted: 1 });
    expect(again({ subjects: () => [{ ...job, kind: 'bend' }] }, rich)).toEqual({ same: false, counted: 1 });
  });

  it('is made again when the job sets a limit for the rule, and says so; not for a limit of another rule', () => {
    const limit = {
      'limits.invented-limit': 1,
      'limits.invented-limit.most': 0.7,
      'limits.invented-limit.reason': 'x',
    };
    const before = run({}, rich);
    const set = run({}, specOf({ 'engine.lambda': 0.8, ...limit }), before.out);
    expect(set.counted).toBe(1);
    expect(set.verdict).toMatchObject({
      status: 'fail',
      override: { reason: 'x', was: { kind: 'max', value: 1 } },
    });
    expect(set.verdict?.digest).not.toBe(before.verdict?.digest);
    const other = { 'limits.other-rule': 1, 'limits.other-rule.most': 0.7, 'limits.other-rule.reason': 'x' };
    expect(run({}, specOf({ 'engine.lambda': 0.8, ...other }), before.out).counted).toBe(0);
  });
});

describe('the digest', () => {
  const digestOf = (value: number) => run({ reads: () => ({ value: known(value) }) }, rich).verdict?.digest;

  it('is the same for numbers that differ beyond the tenth digit, and another one within', () => {
    expect(digestOf(0.1 + 0.2)).toBe(digestOf(0.3));
    expect(digestOf(0.123456789012)).toBe(digestOf(0.123456789049));
    expect(digestOf(0.1234567891)).not.toBe(digestOf(0.1234567892));
    expect(digestOf(12345678901234)).toBe(digestOf(12345678901567));
    expect(digestOf(1234567890)).not.toBe(digestOf(1234567891));
    expect(digestOf(-12345678901234)).toBe(digestOf(-12345678901567));
  });
});

describe('own materials', () => {
  it('are named by the verdict that rests on one', () => {
    const ground = { path: 'materials.m1', name: 'Lot 7', source: 'certificate', reason: 'on the shelf' };
    const value = restingOn(known(0.8), [ground]);
    expect(run({ reads: () => ({ value }) }, rich).verdict?.grounds).toEqual([ground]);
  });
});
