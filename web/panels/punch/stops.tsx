import { useMemo } from 'react';
import { type PunchEntry, type PunchPlace, punchGroups, punchList, waitsFor } from '../../../shared/gates/punchList.ts';
import { useStore } from '../../state/store.ts';
import { Mark, type MarkKind } from '../../ui/marks.tsx';
import { useJob } from '../job/context.ts';

const marks: Readonly<Record<PunchEntry['sort'], MarkKind>> = {
  fail: 'outside',
  unknown: 'unknown',
  item: 'none',
  signature: 'near',
  stale: 'stale',
  markup: 'none',
  concession: 'conceded',
};

const sortWords: Readonly<Record<PunchEntry['sort'], string>> = {
  fail: 'outside its limit',
  unknown: 'no data',
  item: 'to be checked',
  signature: 'to be signed',
  stale: 'to be signed again',
  markup: 'open markup',
  concession: 'finding',
};

/** What to focus so that the place comes into view. */
function focusOf(place: PunchPlace): { readonly kind: 'verdict' | 'gate' | 'thread' | 'field'; readonly id: string } {
  switch (place.kind) {
    case 'verdict':
      return { kind: 'verdict', id: place.verdict };
    case 'item':
      return { kind: 'gate', id: `${place.gate}.${place.item}` };
    case 'gate':
      return { kind: 'gate', id: place.gate };
    case 'thread':
      return { kind: 'thread', id: place.thread };
    case 'field':
      return { kind: 'field', id: place.path };
  }
}

function Entries({ list }: { readonly list: readonly PunchEntry[] }): React.ReactNode {
  const { session } = useJob();
  return (
    <ul className="stops">
      {list.map((entry) => (
        <li key={entry.key} data-stop={entry.key} data-sort={entry.sort}>
          <button type="button" className="stop" onClick={() => session.focus.set(focusOf(entry.place))}>
            <Mark kind={marks[entry.sort]} />
            <span className="stop-words">{entry.words}</span>
            <span className="quiet">{sortWords[entry.sort]}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

/** Everything that stops the job or waits for an answer: first what waits for who is looking, then by who must act. */
export function Stops(): React.ReactNode {
  const { session } = useJob();
  const { gates, verdicts, plan, conceded } = useStore(session.feed.state);
  const threads = useStore(session.threads);
  const all = useMemo(
    () => punchList({ views: gates, verdicts: verdicts.values(), plan, concessions: conceded, threads }),
    [gates, verdicts, plan, conceded, threads],
  );
  const reader = { account: session.me, roles: session.project.roles };
  const mine = all.filter((entry) => waitsFor(entry, reader));
  const others = all.filter((entry) => !waitsFor(entry, reader));
  return (
    <section aria-label="What stops the job" data-testid="stops">
      <h3>Waits for you ({mine.length})</h3>
      {mine.length === 0 && <p className="quiet">Nothing waits for you.</p>}
      <Entries list={mine} />
      {punchGroups(others).map(({ role, entries }) => (
        <details key={role ?? 'markups'} className="stop-group">
          <summary>
            {role === null ? 'Markups that wait for others' : `Waits for the ${role}`} ({entries.length})
          </summary>
          <Entries list={entries} />
        </details>
      ))}
    </section>
  );
}
