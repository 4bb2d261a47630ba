import { underWay } from '../../state/sending.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { standWords } from '../upload/uploadActs.tsx';

/** What became of a file that was sent, while its window is closed. */
export function SendingChip({ onOpen }: { readonly onOpen: () => void }): React.ReactNode {
  const { sending } = useJob();
  const stand = useStore(sending.stand);
  if (stand === null) return null;
  const ended = !underWay(stand);
  return (
    <p className={`bay-hint${stand.phase === 'failed' ? ' problem' : ''}`} role="status" data-sending={stand.phase}>
      {stand.phase === 'failed' ? `${stand.name}: ` : ''}
      {standWords(stand)}{' '}
      <button type="button" className="button" onClick={ended ? sending.putAway : onOpen}>
        {ended ? 'Put it away' : 'Show'}
      </button>
    </p>
  );
}

/** Files that others are sending: what comes next is known before it is there. */
export function SentByOthers(): React.ReactNode {
  const { session } = useJob();
  const present = useStore(session.specDocument.present);
  const coming = present.filter((person) => !person.me && person.brings !== undefined);
  return coming.map(({ client, name, brings }) => (
    <p key={client} className="bay-hint quiet" role="status" data-coming={client}>
      {name} sends {brings}
    </p>
  ));
}
