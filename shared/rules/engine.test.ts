import { describe, expect, it } from 'vitest';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { pendingMeasurements } from '../../tests/support/measurements.ts';
import { readSpec } from '../spec/reader.ts';
import { createEngine } from './engine.ts';
import { rules } from './registry.ts';

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
});
