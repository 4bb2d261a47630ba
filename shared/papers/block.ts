import type { Mark } from '../rules/words.ts';

/** What stands on a paper, from top to bottom. Plain data: it goes to a worker, and what it says is tested without reading a PDF. */
export type Block =
  | { readonly kind: 'heading'; readonly level: 1 | 2; readonly text: string }
  | { readonly kind: 'text'; readonly text: string; readonly tone?: 'strong' | 'quiet' }
  /** A framed warning; the frame and the word say what it is, no colour does. */
  | { readonly kind: 'caution'; readonly title: string; readonly lines: readonly string[] }
  | Table
  | { readonly kind: 'boxes'; readonly items: readonly Box[] }
  | { readonly kind: 'signs'; readonly lines: readonly SignLine[] }
  | { readonly kind: 'code'; readonly url: string; readonly text: readonly string[] }
  /** Lines to write on. */
  | { readonly kind: 'blanks'; readonly labels: readonly string[] }
  /** A picture taken where `caption` says; by number in the list that comes with the paper, null when none was taken. */
  | { readonly kind: 'picture'; readonly picture: number | null; readonly caption: string; readonly without: string }
  | { readonly kind: 'page' };

/** A table; its head is printed again on every page it goes over. */
export interface Table {
  readonly kind: 'table';
  readonly columns: readonly Column[];
  readonly rows: readonly (readonly Cell[])[];
  /** What is printed when there are no rows. */
  readonly empty: string;
  /** Rows are high enough to write in by hand. */
  readonly toWrite?: true;
}

/** A column; `share` is its part of the width, as against the others. */
export interface Column {
  readonly title: string;
  readonly share: number;
}

/** Text, or text with the drawn mark of a verdict before it. */
export type Cell = string | { readonly mark: Mark; readonly text: string };

/** A checklist item with its box. */
export interface Box {
  readonly ticked: boolean;
  /** H, W or R. */
  readonly letter: string;
  readonly text: string;
  /** Who ticked it, what was noted; '' when nothing is known. */
  readonly by: string;
}

/** A line for one signature: filled in when it has been given, else empty to write on. */
export interface SignLine {
  readonly role: string;
  readonly name: string;
  readonly date: string;
  /** First 16 hex digits of what was signed. */
  readonly digest: string;
  /** `signed`, `signed, stale now`, `not signed`. */
  readonly state: string;
}

/** A paper, whole: the same paper prints as the same bytes. */
export interface Paper {
  readonly title: string;
  readonly job: string;
  /** ISO 8601 in UTC. */
  readonly printed: string;
  /** `journal 41, rule set 9`. */
  readonly state: string;
  /** Head of the record, eight groups of four hex digits; '' while nothing is signed. */
  readonly head: string;
  readonly blocks: readonly Block[];
}

/** Sizes of sheet a paper is printed on. */
export type PaperSize = 'a4' | 'letter';
