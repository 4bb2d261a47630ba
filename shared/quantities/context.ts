import type { MeasureJob, MeasureResult } from '../geometry/measurement.ts';
import type { Spec } from '../spec/spec.ts';
import { type Known, unknown } from '../units/known.ts';

/** Where measurements come from. A measurement not there yet reads as unknown: pending, and is thereby asked for. */
export interface Measurements {
  /**
   * What the job gives, of the kind of the job. A job that is the same object as before is known without being looked through: keep it with
   * `memo` as long as what it is made of stays.
   */
  measure<J extends MeasureJob>(job: J): Known<MeasureResult<J['kind']>>;
}

/** What a quantity or a rule may look at. */
export interface FactContext {
  readonly spec: Spec;
  readonly measured: Measurements;
  /**
   * Keeps the last value made under `key` as long as every member of `deps` is the identical object (or equal primitive).
   * Keys are unique per quantity and subject, e.g. `centreline/r1`.
   */
  memo<T>(key: string, deps: readonly unknown[], make: () => T): T;
}

interface Slot {
  readonly deps: readonly unknown[];
  readonly value: unknown;
}

/** A memo store that lives as long as its engine. Slots of subjects that are gone are dropped by {@link MemoStore.sweep}. */
export class MemoStore {
  private readonly slots = new Map<string, Slot>();
  private used = new Set<string>();

  memo = <T>(key: string, deps: readonly unknown[], make: () => T): T => {
    this.used.add(key);
    const slot = this.slots.get(key);
    if (slot && slot.deps.length === deps.length && slot.deps.every((d, i) => Object.is(d, deps[i]))) {
      const { value } = slot;
      assertSame<T>(value);
      return value;
    }
    const value = make();
    this.slots.set(key, { deps, value });
    return value;
  };

  /** Forgets what this run does not ask for. The run must ask for everything there is, as a full evaluation does. */
  sweep(run: () => void): void {
    this.used = new Set();
    run();
    for (const key of this.slots.keys()) if (!this.used.has(key)) this.slots.delete(key);
  }

  /** Number of values kept. */
  get size(): number {
    return this.slots.size;
  }
}

/** Where nothing is measured: for what can be told from a spec alone. */
export const nothingMeasured: Measurements = { measure: () => unknown({ reason: 'pending', job: 'none' }) };

/** A spec to look at once, with nothing measured. */
export const unmeasured = (spec: Spec): FactContext => ({
  spec,
  measured: nothingMeasured,
  memo: new MemoStore().memo,
});

/** A slot only ever holds what its own key's `make` returned; keys are unique per quantity, so its type is the one asked for. */
function assertSame<T>(_value: unknown): asserts _value is T {}
