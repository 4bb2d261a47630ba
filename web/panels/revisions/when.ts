/** A time as this person's own clock shows it. */
export function when(at: string | null): string {
  return at === null ? 'time not kept' : new Date(at).toLocaleString([], { dateStyle: 'medium', timeStyle: 'short' });
}

/** What went wrong, in words. */
export function problemWords(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
