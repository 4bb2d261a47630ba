import type { GateId } from '../spec/gateId.ts';
import type { Ground } from '../units/known.ts';
import type { Outcome } from './outcome.ts';
import type { Override } from './override.ts';

/** What a verdict is about. */
export interface Subject {
  readonly kind:
    | 'job'
    | 'runner'
    | 'runner-pair'
    | 'runner-component'
    | 'component'
    | 'bend'
    | 'hole'
    | 'piece'
    | 'piece-component'
    | 'joint'
    | 'purge'
    | 'sensor'
    | 'reading';
  /** Unique within the rule; element ids joined by `~`. */
  readonly id: string;
  /** As shown: `Runner 3 x brake line`. */
  readonly name: string;
}

/** One rule's result for one subject, stamped by the engine. Plain data: it travels as JSON. */
export type Verdict = Outcome & {
  readonly key: string;
  readonly rule: string;
  readonly gate: GateId;
  readonly severity: 'block' | 'advise';
  readonly subject: Subject;
  /** First 16 hex digits of the SHA-256 of what the rule read: says of which facts the verdict speaks. */
  readonly digest: string;
  /** Set when the limit is one this job sets itself. */
  readonly override?: Override;
  /** Own materials of the job that it rests on. */
  readonly grounds?: readonly Ground[];
};

/** True when this verdict keeps its gate shut. */
export function blocks(verdict: Verdict): boolean {
  return verdict.severity === 'block' && (verdict.status === 'fail' || verdict.status === 'unknown');
}
