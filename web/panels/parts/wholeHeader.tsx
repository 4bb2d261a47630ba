import { useState } from 'react';
import { exportFormats } from '../../../shared/protocol/http.ts';
import { fetchBytes } from '../../sync/api.ts';
import { keepFile } from '../../ui/keepFile.ts';
import { useJob } from '../job/context.ts';

const kinds = ['step', ...exportFormats] as const;
type Kind = (typeof kinds)[number];

/** The header as a whole, to take away: exact tubes, or one closed solid. */
export function WholeHeader(): React.ReactNode {
  const { session } = useJob();
  const [making, setMaking] = useState<Kind | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const take = async (kind: Kind): Promise<void> => {
    setMaking(kind);
    setProblem(null);
    try {
      keepFile(await fetchBytes(`/api/projects/${session.project.id}/header.${kind}`, true), `header.${kind}`);
    } catch (error) {
      setProblem(error instanceof Error ? error.message : String(error));
    }
    setMaking(null);
  };
  return (
    <section className="whole-header">
      <h3>The whole header</h3>
      <p className="part-exports">
        {kinds.map((kind) => (
          <button
            key={kind}
            type="button"
            className="button"
            disabled={making !== null}
            onClick={() => void take(kind)}
          >
            {making === kind ? 'Being made...' : kind.toUpperCase()}
          </button>
        ))}
      </p>
      {problem !== null && (
        <p className="problem" role="alert">
          {problem}
        </p>
      )}
      <p className="quiet">
        STEP: the runners as exact bent tubes. The others: one closed solid, of the printed pieces, or of the runners
        while no piece is printed.
      </p>
    </section>
  );
}
