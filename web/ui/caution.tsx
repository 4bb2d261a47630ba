import { CAUTION_DEFERS, cautionsOf, gateSteps, stepTitles } from '../../shared/gates/cautions.ts';
import type { GateId } from '../../shared/spec/gateId.ts';
import { sourceLine } from '../../shared/trade/source.ts';

interface CautionsProps {
  readonly gate: GateId;
  /** What is said where nothing hot, sharp or under pressure is done. */
  readonly otherwise: string;
}

/** What can hurt people in the work behind a gate, in plain words, and that qualified people and local codes come first. */
export function Cautions({ gate, otherwise }: CautionsProps): React.ReactNode {
  const steps = gateSteps(gate);
  if (steps.length === 0) return <p className="caution">{otherwise}</p>;
  return (
    <section className="cautions" aria-label="Cautions" data-testid="cautions">
      {steps.map((step) => (
        <div key={step}>
          <h3>
            <svg className="caution-sign" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
              <path d="M12 2 23 21H1Z" />
              <path d="M12 9v6M12 17v2" />
            </svg>
            Caution: {stepTitles[step]}
          </h3>
          <ul>
            {cautionsOf(step).map(({ id, words, source }) => (
              <li key={id}>
                {words} <span className="quiet">{sourceLine(source)}</span>
              </li>
            ))}
          </ul>
        </div>
      ))}
      <p className="quiet">{CAUTION_DEFERS}</p>
    </section>
  );
}
