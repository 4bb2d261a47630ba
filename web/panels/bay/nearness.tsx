import { nearnessCap } from '../../../shared/geometry/nearness.ts';
import { formatSi } from '../../../shared/units/format.ts';
import { nearBands } from '../../scene/nearLook.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import type { FoundNearness } from './useNearness.ts';

/** What the colours over the scan mean, how far they can be trusted, and what they do not speak of. */
export function NearnessLegend({ found }: { readonly found: FoundNearness }): React.ReactNode {
  const { waiting, why, leftOut } = found;
  return (
    <details className="near-legend" open={matchMedia('(min-width: 72rem)').matches}>
      <summary>
        How near the header is
        <span role="status" className="quiet" data-nearness={waiting ? 'waiting' : 'there'}>
          {waiting ? ' being measured' : ' as it is now'}
        </span>
      </summary>
      <ul>
        {nearBands.map((end, band) => (
          <li key={end}>
            <span className={`tone near-${band + 1}`} aria-hidden="true" />
            {bandWords(nearBands[band - 1], end)}
          </li>
        ))}
        <li>
          <span className="tone" aria-hidden="true" />
          {formatSi('length', nearnessCap)} or more: small, in the component's colour
        </li>
        <li>
          <span className="tone near-hatch" aria-hidden="true" />
          large and hatched: nearer than the heat class asks
        </li>
      </ul>
      <ClassWords found={found} />
      <p className="quiet">Bare distance. The checks take rock, hot growth and scan error off it.</p>
      {why.map((words) => (
        <p key={words} className="problem">
          Not told: {words}
        </p>
      ))}
      {leftOut.map(({ name, why: words }) => (
        <p key={`${name} ${words}`} className="problem">
          {name} is not in it: {words}
        </p>
      ))}
    </details>
  );
}

function bandWords(from: number | undefined, to: number): string {
  return from === undefined
    ? `under ${formatSi('length', to)}`
    : `${formatSi('length', from)} to ${formatSi('length', to)}`;
}

/** Each component with the clearance its class asks for. */
function ClassWords({ found: { looks } }: { readonly found: FoundNearness }): React.ReactNode {
  const spec = useStore(useJob().session.spec);
  const shown = spec.components.filter(({ id }) => looks.has(id));
  const words = shown.map(({ id, name }) => {
    const clearance = looks.get(id)?.clearance ?? null;
    if (clearance === null) return `${name ?? id}: no heat class`;
    const beyond = clearance > nearnessCap ? `, told up to ${formatSi('length', nearnessCap)} only` : '';
    return `${name ?? id}: ${formatSi('length', clearance)}${beyond}`;
  });
  return (
    <details>
      <summary>What each heat class asks</summary>
      <ul>
        {words.map((one) => (
          <li key={one}>{one}</li>
        ))}
      </ul>
    </details>
  );
}
