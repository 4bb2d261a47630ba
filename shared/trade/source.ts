/** How far a figure can be trusted; it travels with the figure into every verdict that used it. */
export type Trust =
  /** Read in an excerpt or transcription of the named document. */
  | 'excerpt'
  /** Written from memory of the named document, not re-read. */
  | 'memory'
  /** Common practice, no source. */
  | 'practice'
  /** Own derivation or arithmetic. */
  | 'own'
  /** From memory and doubtful: confirm before relying on it. */
  | 'uncertain';

/** Where a figure, limit or formula comes from. */
export interface Source {
  /** Document with edition, or "common practice, no source". */
  readonly document: string;
  /** Clause, table, figure or page. */
  readonly clause?: string;
  readonly trust: Trust;
  readonly note?: string;
}

/** The words shown for a trust tag. */
export const trustWords: Readonly<Record<Trust, string>> = {
  excerpt: 'read in an excerpt',
  memory: 'from memory',
  practice: 'common practice, no source',
  own: 'own derivation',
  uncertain: 'uncertain, confirm first',
};

/** A source on one line: document, clause and how far to trust it, unless the document says that already. */
export function sourceLine({ document, clause, trust }: Source): string {
  const where = `${document}${clause ? `, ${clause}` : ''}`;
  return where === trustWords[trust] ? where : `${where} (${trustWords[trust]})`;
}

/** A source on one line, with its note. */
export function sourceWords(source: Source): string {
  return `${sourceLine(source)}${source.note ? `; ${source.note}` : ''}`;
}
