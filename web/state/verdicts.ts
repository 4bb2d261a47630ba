import type { Measurements } from '../../shared/quantities/context.ts';
import { createEngine, type Engine, readsChanged } from '../../shared/rules/engine.ts';
import { rules } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import { unknown } from '../../shared/units/known.ts';

/** A verdict as shown: the server's, or this browser's own until the server's for the same facts arrives. */
export interface ShownVerdict {
  readonly verdict: Verdict;
  /** True while the server has not judged exactly these facts. */
  readonly provisional: boolean;
}

const nothingMeasured: Measurements = { measure: () => unknown({ reason: 'pending', job: 'server' }) };

/** Runs the cheap rules here, so that an edit is answered at once and while offline. */
export class LocalVerdicts {
  private readonly engine: Engine = createEngine({
    rules: rules.filter((r) => r.cost === 'cheap'),
    measured: nothingMeasured,
  });
  /** The spec the server's verdicts were last seen to agree with. */
  private agreed: Spec | null = null;
  private spec: Spec | null = null;

  evaluate(spec: Spec): void {
    this.spec = spec;
    this.engine.evaluate(spec);
  }

  /** Tells that the server has judged all of this device's edits. */
  agree(): void {
    this.agreed = this.spec;
  }

  /** Server verdicts, with this browser's own where the facts differ. */
  merge(server: ReadonlyMap<string, Verdict>): ReadonlyMap<string, ShownVerdict> {
    const out = new Map<string, ShownVerdict>();
    const local = this.engine.verdicts();
    const moved = this.movedRules();
    for (const [key, verdict] of server) {
      const own = local.get(key);
      if (own)
        out.set(
          key,
          own.digest === verdict.digest ? { verdict, provisional: false } : { verdict: own, provisional: true },
        );
      else if (moved.has(verdict.rule)) out.set(key, { verdict: pending(verdict), provisional: true });
      else out.set(key, { verdict, provisional: false });
    }
    for (const [key, verdict] of local) if (!server.has(key)) out.set(key, { verdict, provisional: true });
    return out;
  }

  /** Measured rules whose branches this device has changed since the server last agreed. */
  private movedRules(): ReadonlySet<string> {
    const { agreed, spec } = this;
    if (!agreed || !spec) return new Set();
    return new Set(rules.filter((r) => r.cost === 'measured' && readsChanged(r, agreed, spec)).map((r) => r.id));
  }
}

function pending(verdict: Verdict): Verdict {
  const { key, rule, gate, severity, subject, digest } = verdict;
  return { status: 'unknown', why: { reason: 'pending', job: 'server' }, key, rule, gate, severity, subject, digest };
}
