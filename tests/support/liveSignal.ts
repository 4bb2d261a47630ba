/** Wakes whoever waits for something that clients hear: tests wait for events, never for time to pass. */
export class Signal {
  private readonly waiting = new Set<() => void>();

  /** Something arrived. */
  fire(): void {
    for (const look of [...this.waiting]) look();
  }

  /** Resolves once `holds` does, looking again at everything that arrives. Rejects after a deadline, naming what was waited for. */
  until(holds: () => boolean, what: string, deadline = 10_000): Promise<void> {
    if (holds()) return Promise.resolve();
    return new Promise((resolve, reject) => {
      const end = (): void => {
        this.waiting.delete(look);
        clearTimeout(late);
      };
      const late = setTimeout(() => {
        end();
        reject(new Error(`waited ${deadline} ms in vain for: ${what}`));
      }, deadline);
      const look = (): void => {
        if (!holds()) return;
        end();
        resolve();
      };
      this.waiting.add(look);
    });
  }
}
