/** What can be wrong with a scan file. One code a cause a person can act on. */
export type ReadCode =
  | 'unreadable-file'
  | 'empty'
  | 'too-large'
  | 'unknown-format'
  | 'unsupported'
  | 'bad-header'
  | 'no-coordinates'
  | 'truncated'
  | 'malformed'
  | 'not-finite'
  | 'mostly-unplaced'
  | 'no-readable-line'
  | 'too-many-points'
  | 'implausible-extents';

/** Why a scan file was refused; the message says what was expected and what came. */
export interface ReadProblem {
  readonly code: ReadCode;
  readonly message: string;
}

/** Carries a problem out of the depth of a reader; `readScan` turns it back into data. */
export class ReadFailure extends Error {
  readonly problem: ReadProblem;

  constructor(problem: ReadProblem) {
    super(problem.message);
    this.name = 'ReadFailure';
    this.problem = problem;
  }
}

/** Ends the reading of this file. */
export function refuse(code: ReadCode, message: string): never {
  throw new ReadFailure({ code, message });
}

/** A whole number with thin grouping, for messages: 60,000,000. */
export const grouped = (n: number): string => n.toLocaleString('en-US', { maximumFractionDigits: 0 });
