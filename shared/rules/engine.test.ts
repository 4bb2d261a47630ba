import { describe, expect, it } from 'vitest';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { pendingMeasurements } from '../../tests/support/measurements.ts';
import { readSpec } from '../spec/reader.ts';
import { createEngine, readsChanged } from './engine.ts';
import { findRule, rules } from './registry.ts';

const pending = pendingMeasurements;

/** The base spec with one more runner, a copy of the first under a new id. */
function withRunner(id: string): ReadonlyMap<string, unknown> {
  const entries = new Map(baseEntries());
  for (const [path, value] of baseEntries())
    if (path === 'runners.r1' || path.startsWith('runners.r1.')) entries.set(path.replace('r1', id), value);
  return entries;
}

describe('an engine', () => {
  it('forgets what it derived for subjects that are gone, without judging the others again', () => {
    const engine = createEngine({ rules, measured: pending });
    const base = readSpec(baseEntries());
    engine.evaluate(base);
    const kept = engine.kept();
    expect(kept).toBeGreaterThan(0);
    for (let i = 0; i < 20; i++) {
      const added = engine.evaluate(readSpec(withRunner(`extra${i}`)));
      expect(added.changed.length).toBeGreaterThan(0);
      expect(engine.kept()).toBeGreaterThan(kept);
      const removed = engine.evaluate(base);
      expect(removed.cleared.length).toBeGreaterThan(0);
      expect(engine.kept()).toBe(kept);
    }
    const fresh = createEngine({ rules, measured: pending });
    fresh.evaluate(base);
    expect(engine.verdicts()).toEqual(fresh.verdicts());
    const before = engine.evaluations();
    expect(engine.evaluate(base)).toEqual({ changed: [], cleared: [] });
    expect(engine.evaluations()).toBe(before);
  });

  const base = readSpec(baseEntries());
  const changed = (path: string, value: unknown) => readSpec(new Map([...baseEntries(), [path, value]]));

  it('judges only what reads a branch that differs, and of the limits of the job only the rule’s own', () => {
    const torque = findRule('stud-preload');
    const mach = findRule('runner-mach');
    if (!torque || !mach) throw new Error('expected both rules');
    expect(readsChanged(torque, base, base)).toBe(false);
    const limited = changed('limits.runner-mach', 1);
    const same = { ...base, limits: limited.limits };
    expect(readsChanged(mach, base, same)).toBe(true);
    expect(readsChanged(torque, base, same)).toBe(false);
    expect(readsChanged(torque, base, { ...base, stud: { ...base.stud } })).toBe(true);
    expect(readsChanged(torque, base, { ...base, joints: [] })).toBe(false);
  });

  it('of a branch of which a rule declares some fields, only those make it judge again', () => {
    const hoop = findRule('hoop-stress');
    if (!hoop) throw new Error('expected the rule');
    expect(readsChanged(hoop, base, { ...base, engine: changed('engine.lambda', 0.91).engine })).toBe(false);
    expect(readsChanged(hoop, base, { ...base, engine: changed('engine.exhaustPressure', 3e5).engine })).toBe(true);
    expect(readsChanged(hoop, base, { ...base, tube: changed('tube.wall', 0.003).tube })).toBe(true);
  });

  it('has nothing to measure again before it has judged, and then judges measured rules only', () => {
    const engine = createEngine({ rules, measured: pending });
    expect(engine.remeasured()).toEqual({ changed: [], cleared: [] });
    expect(engine.verdicts().size).toBe(0);
    engine.evaluate(base);
    const asked: string[] = [];
    const watched = rules.map((rule) => ({
      ...rule,
      run: (...given: Parameters<typeof rule.run>) => {
        asked.push(rule.id);
        return rule.run(...given);
      },
    }));
    const second = createEngine({ rules: watched, measured: pending });
    second.evaluate(base);
    expect(asked).toEqual(rules.map((rule) => rule.id));
    asked.length = 0;
    expect(second.remeasured()).toEqual({ changed: [], cleared: [] });
    expect(asked).toEqual(rules.filter((rule) => rule.cost === 'measured').map((rule) => rule.id));
  });

  it('tells of faults of rules, and of nothing else that is unknown', () => {
    const told: string[] = [];
    const [first] = rules;
    if (!first) throw new Error('expected a rule');
    const broken = {
      ...first,
      run: (...given: Parameters<typeof first.run>) => {
        const out = new Map(first.run(...given));
        for (const [key, kept] of out) {
          const why = { reason: 'fault', detail: 'invented' } as const;
          const { key: name, rule, gate, severity, subject, digest } = kept.verdict;
          out.set(key, {
            ...kept,
            verdict: { key: name, rule, gate, severity, subject, digest, status: 'unknown', why },
          });
        }
        return out;
      },
    };
    const engine = createEngine({
      rules: [broken, ...rules.slice(1)],
      measured: pending,
      alarm: (verdict) => told.push(verdict.rule),
    });
    engine.evaluate(readSpec(new Map()));
    engine.evaluate(base);
    expect(new Set(told)).toEqual(new Set([first.id]));
    expect(() => createEngine({ rules: [broken], measured: pending }).evaluate(base)).not.toThrow();
  });
});
