import type { Verdict } from '../../../shared/rules/verdict.ts';

/** Position of the value on a scale that shows the limit and as much again beyond it, 0..1. */
function place(measured: number, at: number): number {
  if (at === 0) return measured > 0 ? 1 : 0.5;
  return Math.max(0.02, Math.min(0.98, measured / at / 2));
}

/** A thin rule with the limit scribed on it and a tick at the value: how much is left, not just pass or fail. */
export function Feeler({ verdict }: { readonly verdict: Verdict }): React.ReactNode {
  if (verdict.status === 'unknown' || verdict.status === 'notApplicable')
    return <svg className="feeler" aria-hidden="true" viewBox="0 0 80 12" />;
  const { measured, limit } = verdict;
  const allowed =
    limit.kind === 'range' ? [limit.low / limit.high / 2, 0.5] : limit.kind === 'max' ? [0, 0.5] : [0.5, 1];
  const tick = limit.kind === 'range' ? place(measured, limit.high) : place(measured, limit.value);
  const [from = 0, to = 1] = allowed;
  return (
    <svg className="feeler" aria-hidden="true" viewBox="0 0 80 12" preserveAspectRatio="none">
      <rect className="feeler-base" x="0" y="5" width="80" height="2" />
      <rect className="feeler-in" x={from * 80} y="4" width={(to - from) * 80} height="4" />
      <rect className={`feeler-tick feeler-${verdict.status}`} x={tick * 80 - 1} y="0" width="2.5" height="12" />
    </svg>
  );
}
