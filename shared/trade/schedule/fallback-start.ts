import { derive, type Known, known } from '../../units/known.ts';
import { inconsistent } from '../data/validity.ts';
import { percentile } from '../metrology/deviation-statistics.ts';
import { type Estimate, estimateDeviation, estimateFault, estimateMean } from './estimate.ts';
import { normalQuantile } from './normal.ts';
import { type SimulationSettings, simulatePlan } from './simulation.ts';

/** When a fallback route, its tasks one after the other, must start to be done by the deadline with a confidence. */
export interface FallbackStart {
  readonly mean: number;
  readonly deviation: number;
  /** In the unit of the deadline; may lie in the past. */
  readonly latestStart: number;
}

/** D - mu - z sigma over a chain of tasks, normal sum. `confidence` from 0.5 to 0.9999. Bad estimates or no tasks: inconsistent. Source: PERT (own use). */
export function fallbackStart(deadline: number, tasks: readonly Estimate[], confidence: number): Known<FallbackStart> {
  const wrong = chainFault(deadline, tasks, confidence);
  if (wrong) return inconsistent(wrong);
  const mean = tasks.reduce((sum, task) => sum + estimateMean(task), 0);
  const deviation = Math.sqrt(tasks.reduce((sum, task) => sum + estimateDeviation(task) ** 2, 0));
  return known({ mean, deviation, latestStart: deadline - mean - normalQuantile(confidence) * deviation });
}

/** Latest start from a simulated chain: D less the confidence quantile of the summed durations. Same conditions as {@link fallbackStart}. */
export function simulatedFallbackStart(
  deadline: number,
  tasks: readonly Estimate[],
  confidence: number,
  settings: SimulationSettings,
): Known<number> {
  const wrong = chainFault(deadline, tasks, confidence);
  if (wrong) return inconsistent(wrong);
  const chain = tasks.map((estimate, i) => ({ id: `${i}`, after: i > 0 ? [`${i - 1}`] : [], estimate }));
  return derive(
    { ends: simulatePlan(chain, settings) },
    ({ ends }) => deadline - percentile(ends.finishes, confidence),
  );
}

function chainFault(deadline: number, tasks: readonly Estimate[], confidence: number): string | null {
  if (!Number.isFinite(deadline)) return `fallback: expected a finite deadline, got ${deadline}`;
  if (!(confidence >= 0.5 && confidence <= 0.9999))
    return `fallback: expected a confidence from 0.5 to 0.9999, got ${confidence}`;
  if (tasks.length === 0) return 'fallback: expected at least one task, got none';
  for (const [i, task] of tasks.entries()) {
    const fault = estimateFault(task);
    if (fault) return `fallback: task ${i + 1}: ${fault}`;
  }
  return null;
}
