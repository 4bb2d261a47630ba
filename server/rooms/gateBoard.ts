import { type ConcessionView, concessionViews, nextExpiry } from '../../shared/gates/concession.ts';
import { keptCoverage } from '../../shared/gates/coverage.ts';
import { type GateView, gateViews } from '../../shared/gates/readiness.ts';
import type { DecidedMessage } from '../../shared/protocol/events.ts';
import type { Decided } from '../../shared/record/decided.ts';
import { RULE_SET, rules } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import type { Clock } from '../ambient.ts';

export interface GateBoardOptions {
  readonly spec: () => Spec;
  readonly verdicts: () => Iterable<Verdict>;
  /** Tells when concessions run out. */
  readonly clock: Clock;
  /** Starts a timer of so many milliseconds; gives back what stops it. */
  readonly after: (ms: number, run: () => void) => () => void;
  readonly gates: (message: readonly GateView[]) => void;
  readonly decided: (message: DecidedMessage) => void;
}

/** Timers cannot be set for longer than some 24 days; looking four times a day costs nothing. */
const LONGEST_WAIT_MS = 6 * 3600 * 1000;

/** Where the gates of a live project stand, told again whenever that is another thing than before. */
export class GateBoard {
  private readonly options: GateBoardOptions;
  private readonly covered = keptCoverage(rules, RULE_SET);
  private decided: Decided;
  private views: readonly GateView[];
  private viewsText: string;
  private conceded: readonly ConcessionView[];
  private told: string;
  private mayDiffer = false;
  private closed = false;
  private stopTimer = (): void => undefined;

  constructor(options: GateBoardOptions, decided: Decided) {
    this.options = options;
    this.decided = decided;
    const now = options.clock();
    this.conceded = this.lookAtConcessions(now);
    this.views = this.lookAtGates(now);
    this.viewsText = JSON.stringify(this.views);
    this.told = this.standings();
    this.waitForExpiry(now);
  }

  gates(): readonly GateView[] {
    return this.views;
  }

  message(): DecidedMessage {
    return { plan: this.decided.plan, concessions: this.conceded };
  }

  /** People decided something; tells it at once. */
  decide(decided: Decided): void {
    this.decided = decided;
    this.mayDiffer = true;
    this.publish();
  }

  /** A fact or a verdict moved. */
  moved(): void {
    this.mayDiffer = true;
  }

  publish(): void {
    if (this.closed || !this.mayDiffer) return;
    this.mayDiffer = false;
    const now = this.options.clock();
    this.conceded = this.lookAtConcessions(now);
    this.views = this.lookAtGates(now);
    this.waitForExpiry(now);
    // First what the gates are to be read by: a browser takes their facts from it.
    const standings = this.standings();
    if (standings !== this.told) {
      this.told = standings;
      this.options.decided(this.message());
    }
    const text = JSON.stringify(this.views);
    if (text === this.viewsText) return;
    this.viewsText = text;
    this.options.gates(this.views);
  }

  close(): void {
    this.closed = true;
    this.stopTimer();
  }

  private lookAtConcessions(now: number): readonly ConcessionView[] {
    const { concessions } = this.decided;
    return concessions.length === 0 ? [] : concessionViews(concessions, this.options.verdicts(), now);
  }

  /** Names plan and concessions with where they stand; after every edit, so it is kept short. */
  private standings(): string {
    const stand = this.conceded.map(({ concession: { id, ended }, standing }) => [id, ended?.at, standing]);
    return JSON.stringify([this.decided.plan.row, stand]);
  }

  private lookAtGates(now: number): readonly GateView[] {
    const { signatures, plan, concessions } = this.decided;
    return gateViews({
      spec: this.options.spec(),
      verdicts: this.options.verdicts(),
      rules,
      ruleSet: RULE_SET,
      ...{ signatures, plan: plan.plan, concessions, now },
      covered: this.covered,
    });
  }

  private waitForExpiry(now: number): void {
    this.stopTimer();
    this.stopTimer = (): void => undefined;
    const next = nextExpiry(this.decided.concessions, now);
    if (next === null) return;
    this.stopTimer = this.options.after(Math.min(next - now, LONGEST_WAIT_MS), () => {
      this.mayDiffer = true;
      this.publish();
      // Where nothing ran out yet, the look above has set the next timer.
    });
  }
}
