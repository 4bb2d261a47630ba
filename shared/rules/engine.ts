import { type FactContext, type Measurements, MemoStore } from '../quantities/context.ts';
import { isGroupKey } from '../spec/path.ts';
import type { Branch, Spec } from '../spec/spec.ts';
import type { Kept, Rule } from './define.ts';
import { jobLimit } from './override.ts';
import type { Verdict } from './verdict.ts';

/** What one evaluation changed. */
export interface Delta {
  readonly changed: readonly Verdict[];
  /** Keys of verdicts whose subject is gone. */
  readonly cleared: readonly string[];
}

/** Holds verdicts on one spec and follows its changes. */
export interface Engine {
  /** Evaluates what reads a branch that changed since the last call. */
  evaluate(spec: Spec): Delta;
  /** Evaluates again what waits for, or holds, measurements. */
  remeasured(): Delta;
  verdicts(): ReadonlyMap<string, Verdict>;
  /** Number of single evaluations made so far. */
  evaluations(): number;
  /** Number of values derived and kept between evaluations; it does not grow with subjects that are gone. */
  kept(): number;
}

/** What an engine is made of. */
export interface EngineOptions {
  readonly rules: readonly Rule[];
  readonly measured: Measurements;
  /** Called for verdicts that are unknown by a fault of a rule. */
  readonly alarm?: (verdict: Verdict) => void;
}

/**
 * Whether a rule may judge `now` otherwise than `before`: something it reads differs. Of the limits of the job only the rule's own does,
 * of a branch of which it declares some fields only those.
 */
export function readsChanged(rule: Rule, before: Spec, now: Spec): boolean {
  return rule.branches.some((branch: Branch) => {
    if (branch === 'limits') return jobLimit(before, rule.id) !== jobLimit(now, rule.id);
    if (before[branch] === now[branch]) return false;
    if (!isGroupKey(branch)) return true;
    const [old, latest]: readonly Values[] = [before[branch], now[branch]];
    return rule.fields?.[branch]?.some((field) => !Object.is(old?.[field], latest?.[field])) ?? true;
  });
}

type Values = Readonly<Record<string, unknown>>;

class IncrementalEngine implements Engine {
  private readonly options: EngineOptions;
  private readonly memo = new MemoStore();
  private readonly judged = new Map<string, ReadonlyMap<string, Kept>>();
  private readonly current = new Map<string, Verdict>();
  private spec: Spec | null = null;
  private count = 0;

  constructor(options: EngineOptions) {
    this.options = options;
  }

  evaluate(spec: Spec): Delta {
    const before = this.spec;
    this.spec = spec;
    return this.run(spec, (rule) => before === null || readsChanged(rule, before, spec));
  }

  remeasured(): Delta {
    return this.spec ? this.run(this.spec, (rule) => rule.cost === 'measured') : { changed: [], cleared: [] };
  }

  verdicts(): ReadonlyMap<string, Verdict> {
    return this.current;
  }

  evaluations(): number {
    return this.count;
  }

  kept(): number {
    return this.memo.size;
  }

  private run(spec: Spec, wanted: (rule: Rule) => boolean): Delta {
    const context: FactContext = { spec, measured: this.options.measured, memo: this.memo.memo };
    const changed: Verdict[] = [];
    const cleared: string[] = [];
    const runAll = (which: (rule: Rule) => boolean): void => {
      for (const rule of this.options.rules) if (which(rule)) this.runRule(rule, context, { changed, cleared });
    };
    runAll(wanted);
    // A subject went, so values kept for it are not asked for again. Nothing is judged anew: every rule finds its inputs unmoved.
    if (cleared.length > 0) this.memo.sweep(() => runAll(() => true));
    return { changed, cleared };
  }

  private runRule(rule: Rule, context: FactContext, into: { changed: Verdict[]; cleared: string[] }): void {
    const before = this.judged.get(rule.id) ?? new Map<string, Kept>();
    const now = rule.run(context, before, () => {
      this.count += 1;
    });
    this.judged.set(rule.id, now);
    for (const [key, { verdict }] of now) {
      if (before.get(key)?.verdict === verdict) continue;
      this.current.set(key, verdict);
      into.changed.push(verdict);
      if (verdict.status === 'unknown' && verdict.why.reason === 'fault') this.options.alarm?.(verdict);
    }
    for (const key of before.keys()) {
      if (now.has(key)) continue;
      this.current.delete(key);
      into.cleared.push(key);
    }
  }
}

/** An engine over a fixed set of rules. Incremental results equal those of a fresh engine on the same spec. */
export function createEngine(options: EngineOptions): Engine {
  return new IncrementalEngine(options);
}
