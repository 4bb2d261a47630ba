import type { Measurements } from '../../shared/quantities/context.ts';
import { createEngine, type Delta, type Engine } from '../../shared/rules/engine.ts';
import { rules } from '../../shared/rules/registry.ts';
import type { Verdict } from '../../shared/rules/verdict.ts';
import { createSpecView, type Entries, type SpecView } from '../../shared/spec/reader.ts';

export interface LiveVerdictsOptions {
  /** The document's entries once all that is on its way to disk is there. */
  readonly ahead: () => Entries;
  /** Entries to start from. */
  readonly entries: Entries;
  readonly measured: Measurements & { settle(waited: () => Iterable<string>): void };
  readonly alarm: (verdict: Verdict) => void;
  /** Verdicts that moved, all of them of what is on disk. `seq` is the journal number they hold for, null: of all that is there. */
  readonly publish: (delta: Delta, seq: number | null) => void;
}

interface Judged {
  /** Holds for the document after so many accepted changes. */
  readonly upTo: number;
  readonly deltas: readonly Delta[];
  readonly remeasured: boolean;
}

/**
 * A project's verdicts. A change is judged while it is on its way to disk, once per turn of the event loop however many came in it,
 * and shown to nobody before it is there; what the disk refuses is judged back without anybody having seen it.
 */
export class LiveVerdicts {
  private readonly options: LiveVerdictsOptions;
  private readonly view: SpecView;
  private readonly engine: Engine;
  private readonly shown: Map<string, Verdict>;
  private readonly touched = new Set<string>();
  private turn: 'idle' | 'spec' | 'measured' = 'idle';
  private judged: Judged[] = [];
  /** Changes accepted and changes whose way to disk has ended, since the beginning. */
  private accepted = 0;
  private settled = 0;
  /** Journal number of each change that was stored and is not shown yet, by its count. */
  private readonly numbers = new Map<number, number>();
  /** A change was lost and what was judged with it has not been judged back. */
  private lostOne = false;
  private offering = false;
  private closed = false;

  constructor(options: LiveVerdictsOptions) {
    this.options = options;
    this.view = createSpecView(options.entries);
    this.engine = createEngine({ rules, measured: options.measured, alarm: options.alarm });
    this.engine.evaluate(this.view.current());
    options.measured.settle(() => this.waited());
    this.shown = new Map(this.engine.verdicts());
  }

  /** As far as they are shown to people: of what is on disk. */
  verdicts(): ReadonlyMap<string, Verdict> {
    return this.shown;
  }

  /** A change that wrote these keys is on its way to disk. */
  take(keys: Iterable<string>): void {
    this.accepted += 1;
    for (const key of keys) this.touched.add(key);
    this.schedule('spec');
  }

  /** The next change on its way is stored. */
  stored(seq: number): void {
    this.settled += 1;
    this.numbers.set(this.settled, seq);
    if (this.offering) return;
    this.offering = true;
    // After this turn's other changes of the same commit, before anything else.
    process.nextTick(() => {
      this.offering = false;
      this.offer();
    });
  }

  /** The next change on its way will never be stored. */
  lost(): void {
    this.settled += 1;
    this.lostOne = true;
    this.schedule('spec');
  }

  /** A measurement is there that was not. */
  remeasured(): void {
    this.schedule('measured');
  }

  /** Judges now what waits for the end of the turn. */
  judge(): void {
    if (this.closed || this.turn === 'idle') return;
    const remeasured = this.turn === 'measured';
    this.turn = 'idle';
    const spec = this.view.read(this.options.ahead(), this.touched);
    this.touched.clear();
    this.lostOne = false;
    const deltas = [this.engine.evaluate(spec), ...(remeasured ? [this.engine.remeasured()] : [])];
    this.options.measured.settle(() => this.waited());
    this.judged.push({ upTo: this.accepted, deltas, remeasured });
    this.offer();
  }

  close(): void {
    this.closed = true;
  }

  /** Measurements that verdicts wait for. */
  private *waited(): Generator<string> {
    for (const verdict of this.engine.verdicts().values())
      if (verdict.status === 'unknown' && verdict.why.reason === 'pending') yield verdict.why.job;
  }

  private schedule(what: 'spec' | 'measured'): void {
    const waiting = this.turn !== 'idle';
    if (this.turn !== 'measured') this.turn = what;
    // Once all that this turn brought is on its way to the disk: the disk works while this judges.
    if (!waiting) queueMicrotask(() => process.nextTick(() => this.judge()));
  }

  private offer(): void {
    if (this.closed || this.lostOne) return;
    const ready = this.judged.filter(({ upTo }) => upTo <= this.settled);
    const last = ready.at(-1);
    if (!last) return;
    this.judged = this.judged.slice(ready.length);
    const delta = this.news(ready.flatMap(({ deltas }) => deltas));
    const news = this.forget(last.upTo) ?? ready.some(({ remeasured }) => remeasured);
    if (!news && delta.changed.length + delta.cleared.length === 0) return;
    const all = this.accepted === last.upTo && this.settled === last.upTo;
    this.options.publish(delta, all || typeof news !== 'number' ? null : news);
  }

  /** What all of it together changed of what is shown. */
  private news(deltas: readonly Delta[]): Delta {
    const moved = new Map<string, Verdict | null>();
    for (const { changed, cleared } of deltas) {
      for (const verdict of changed) moved.set(verdict.key, verdict);
      for (const key of cleared) moved.set(key, null);
    }
    const changed: Verdict[] = [];
    const cleared: string[] = [];
    for (const [key, verdict] of moved) {
      if (verdict === null) {
        if (this.shown.delete(key)) cleared.push(key);
      } else if (!same(this.shown.get(key), verdict)) {
        this.shown.set(key, verdict);
        changed.push(verdict);
      }
    }
    return { changed, cleared };
  }

  /** Journal number of the last change stored among the first `count`; undefined when none of them is news. */
  private forget(count: number): number | undefined {
    let seq: number | undefined;
    for (const [at, number] of this.numbers) {
      if (at > count) break;
      seq = number;
      this.numbers.delete(at);
    }
    return seq;
  }
}

/** A change that was lost, or an engine's new look at the same facts, leaves an equal verdict in a new object. */
function same(before: Verdict | undefined, now: Verdict): boolean {
  return before !== undefined && before.digest === now.digest && JSON.stringify(before) === JSON.stringify(now);
}
