import { toneOf } from '../../scene/tones.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

interface TogglesProps {
  readonly hidden: ReadonlySet<string>;
  readonly onChange: (hidden: ReadonlySet<string>) => void;
  readonly loading: number;
  readonly trouble: string | null;
}

/** Switches each bay component, and each piece that has a part, on and off. */
export function ComponentToggles({ hidden, onChange, loading, trouble }: TogglesProps): React.ReactNode {
  const { session, scans, parts } = useJob();
  const spec = useStore(session.spec);
  useStore(scans.list);
  useStore(parts.list);
  const pieces = spec.pieces.filter((piece) => parts.find(piece));
  const toggle = (id: string): void => {
    const next = new Set(hidden);
    if (!next.delete(id)) next.add(id);
    onChange(next);
  };
  return (
    <details className="toggles" open={matchMedia('(min-width: 72rem) and (pointer: fine)').matches}>
      <summary>Bay components{loading > 0 ? `, loading ${loading}` : ''}</summary>
      <ul>
        {spec.components.map((c, i) => (
          <li key={c.id}>
            <label>
              <input type="checkbox" checked={!hidden.has(c.id)} onChange={() => toggle(c.id)} />
              <span className={`tone tone-${toneOf(i) + 1}`} aria-hidden="true" />
              {c.name ?? c.id}
              {!scans.find(c) && <span className="quiet"> no scan</span>}
            </label>
          </li>
        ))}
        {pieces.map((piece) => (
          <li key={piece.id}>
            <label>
              <input type="checkbox" checked={!hidden.has(piece.id)} onChange={() => toggle(piece.id)} />
              <span className={`tone tone-${piece.use ?? 'printed'}`} aria-hidden="true" />
              {piece.name ?? piece.id}
              <span className="quiet"> {piece.use ?? 'printed'}</span>
            </label>
          </li>
        ))}
      </ul>
      {trouble && <p className="problem">{trouble}</p>}
    </details>
  );
}
