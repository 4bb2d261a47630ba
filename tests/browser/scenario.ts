/** A named step of a story; later steps build on earlier ones, so a failed one ends its story. */
export interface Step {
  readonly name: string;
  readonly run: () => Promise<void>;
}

export interface Tally {
  passed: number;
  failed: number;
}

/** Runs steps in order and counts them; steps after a failure count as failed, because nobody saw them work. */
export async function runSteps(
  story: string,
  steps: readonly Step[],
  onFailure: (step: string) => Promise<void>,
): Promise<Tally> {
  const tally: Tally = { passed: 0, failed: 0 };
  for (const [i, step] of steps.entries()) {
    const began = performance.now();
    try {
      await step.run();
      tally.passed += 1;
      console.log(`ok    ${story}: ${step.name} (${Math.round(performance.now() - began)} ms)`);
    } catch (error) {
      console.log(`FAIL  ${story}: ${step.name}\n${error instanceof Error ? error.stack : String(error)}`);
      await onFailure(step.name).catch(() => undefined);
      tally.failed += steps.length - i;
      return tally;
    }
  }
  return tally;
}
