/** One entry of a spec that one journal entry changed; undefined: it was, or is now, not there. */
export interface FieldChange {
  readonly seq: number;
  readonly path: string;
  readonly before: unknown;
  readonly after: unknown;
}

/** A change as it is kept: with who made it and when, both as its journal entry says. */
export interface KeptChange extends FieldChange {
  /** Place among the changes of its journal entry, from 0. */
  readonly n: number;
  readonly account: string;
  /** Milliseconds since 1970-01-01T00:00Z; null for entries written before times were kept. */
  readonly at: number | null;
}

/** A place between two changes. */
export interface ChangePlace {
  readonly seq: number;
  readonly n: number;
}

/** Which changes, and in what direction from where. */
export interface ChangeQuery {
  readonly project: string;
  /** Only this path and what lies below it. */
  readonly path?: string;
  /** Oldest first, after this place. Left out: newest first. */
  readonly after?: ChangePlace;
  /** Newest first, before this place. */
  readonly before?: ChangePlace;
  readonly limit: number;
}

/** A journal entry with its number, for whoever reads anew what it changed. */
export interface NumberedEntry {
  readonly seq: number;
  /** A snapshot says what there was, not who wrote which part of it. */
  readonly kind: 'update' | 'snapshot';
  readonly body: Uint8Array;
}

/** Changes of one or several journal entries, to be kept after those that are kept already. */
export interface ToldChanges {
  readonly project: string;
  /** Up to which entry changes are kept already. */
  readonly from: number;
  /** Up to which entry they are kept once this is. */
  readonly upTo: number;
  readonly changes: readonly FieldChange[];
}

/**
 * Who changed which field of a project's spec, derived from the journal and kept beside it. Never ahead of the journal; may be behind it
 * after a crash, and is then derived anew from where it ends. What it holds survives compaction.
 */
export interface Changes {
  /** The journal entry up to which changes are kept, 0 when none are. */
  told(project: string): Promise<number>;
  /** All in one transaction. `moved`, and nothing kept, when `from` is not where the kept ones end: so none is kept twice and none left out. */
  keep(told: ToldChanges): Promise<'kept' | 'moved'>;
  of(query: ChangeQuery): Promise<readonly KeptChange[]>;
  /** Every entry of the spec's journal. Rejects with a JournalFault when one is damaged. */
  entries(project: string): Promise<readonly NumberedEntry[]>;
}
