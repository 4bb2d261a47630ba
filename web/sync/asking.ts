import type { z } from 'zod';
import { call } from './api.ts';

/** How long before asking again for what is being measured, ms. */
const ASK_AGAIN = 700;

/** An answer that is final. */
export type Settled<A extends { readonly state: string }> = Exclude<A, { state: 'pending' }>;

/** Asks until the answer is final. Rejects with an ApiProblem, or with the signal's reason once it is no longer wanted. */
export async function askUntilSettled<A extends { readonly state: string }>(
  path: string,
  schema: z.ZodType<A>,
  stop: AbortSignal,
): Promise<Settled<A>> {
  for (;;) {
    stop.throwIfAborted();
    const answer = await call('GET', path, { schema });
    if (isSettled(answer)) return answer;
    await new Promise((resolve) => setTimeout(resolve, ASK_AGAIN));
  }
}

function isSettled<A extends { readonly state: string }>(answer: A): answer is Settled<A> {
  return answer.state !== 'pending';
}
