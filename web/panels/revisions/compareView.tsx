import { useState } from 'react';
import type { Comparison } from '../../../shared/protocol/revisions.ts';
import { Tag } from '../../ui/marks.tsx';
import { useJob } from '../job/context.ts';
import { ComparePicture } from './comparePicture.tsx';
import { useFetched } from './useFetched.ts';

interface CompareProps {
  readonly before: string;
  readonly after: string;
}

const endName = ({ revision }: Comparison['before']): string =>
  revision ? `${revision.letter} ${revision.name}` : 'now';

/** What differs between two states: geometry, verdicts that flipped, fields. */
export function CompareView({ before, after }: CompareProps): React.ReactNode {
  const { revisions } = useJob();
  const [round, setRound] = useState(0);
  const got = useFetched(`${before} ${after} ${round}`, () => revisions.compare(before, after));
  if (got.state === 'waiting') return <p role="status">Comparing. Checks on both states run now.</p>;
  if (got.state === 'problem')
    return (
      <div>
        <p className="problem" role="alert">
          {got.text}
        </p>
        <button type="button" className="button" onClick={() => setRound(round + 1)}>
          Try again
        </button>
      </div>
    );
  const { value } = got;
  const names = [endName(value.before), endName(value.after)] as const;
  const alike = value.sections.length + value.flipped.length === 0;
  return (
    <div className="comparison">
      <p role="status">
        <strong>{names[0]}</strong> (journal {value.before.seq}) against <strong>{names[1]}</strong> (journal{' '}
        {value.after.seq}){alike ? ': no field and no check differs.' : '.'}
      </p>
      <Flips comparison={value} names={names} onAgain={() => setRound(round + 1)} />
      <ComparePicture comparison={value} names={names} />
      <Fields comparison={value} names={names} />
    </div>
  );
}

interface PartProps {
  readonly comparison: Comparison;
  readonly names: readonly [string, string];
}

function Flips({ comparison, names, onAgain }: PartProps & { readonly onAgain: () => void }): React.ReactNode {
  const { flipped, notMeasured } = comparison;
  return (
    <section aria-label="Checks that flipped">
      <h3>Checks that flipped: {flipped.length}</h3>
      {flipped.length > 0 && (
        <table className="compare-table">
          <thead>
            <tr>
              <th scope="col">Check</th>
              <th scope="col">{names[0]}</th>
              <th scope="col">{names[1]}</th>
            </tr>
          </thead>
          <tbody>
            {flipped.map(({ key, rule, subject, before, after }) => (
              <tr key={key} data-flipped={key}>
                <th scope="row">
                  {rule}: {subject}
                </th>
                {[before, after].map((side, i) => (
                  <td key={names[i]} data-label={names[i]}>
                    {side ? <Tag kind={side.mark} text={side.label} /> : 'no such check'} {side?.measured}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {notMeasured.length > 0 && (
        <details className="not-measured">
          <summary>{notMeasured.length} checks not measured yet on one side: nothing is said about them</summary>
          <ul>
            {notMeasured.map(({ key, rule, subject }) => (
              <li key={key}>
                {rule}: {subject}
              </li>
            ))}
          </ul>
          <button type="button" className="button" onClick={onAgain}>
            Measure on and compare again
          </button>
        </details>
      )}
    </section>
  );
}

function Fields({ comparison, names }: PartProps): React.ReactNode {
  const { sections } = comparison;
  return (
    <section aria-label="Fields that differ">
      <h3>Fields that differ: {sections.reduce((sum, { rows, fields }) => sum + rows.length + fields.length, 0)}</h3>
      {sections.map(({ title, rows, fields }) => (
        <table key={title} className="compare-table">
          <caption>{title}</caption>
          <thead>
            <tr>
              <th scope="col">What</th>
              <th scope="col">{names[0]}</th>
              <th scope="col">{names[1]}</th>
            </tr>
          </thead>
          <tbody>
            {[...rows, ...fields.map((field) => ({ ...field, kind: '' }))].map((row) => (
              <tr key={`${row.kind} ${row.path}`} data-differs={row.path}>
                <th scope="row">
                  {row.title}
                  {row.kind && <span className="quiet"> {row.kind}</span>}
                </th>
                <td data-label={names[0]}>{row.from}</td>
                <td data-label={names[1]}>{row.to}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ))}
    </section>
  );
}
