import { type SendingStand, underWay } from '../../state/sending.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

/** Send, for a file that has something in it. */
export function UploadActs({ file, onStart }: { readonly file: File; readonly onStart: () => void }): React.ReactNode {
  if (file.size === 0)
    return (
      <p className="problem" role="alert">
        {file.name} is empty: 0 bytes. Save it anew, then choose it again.
      </p>
    );
  return (
    <div className="acts">
      <button type="button" className="button button-main" onClick={onStart}>
        Send
      </button>
    </div>
  );
}

/** How far the file is, or why it was not taken. */
export function UploadProgress(): React.ReactNode {
  const { sending } = useJob();
  const stand = useStore(sending.stand);
  if (stand === null) return null;
  if (!underWay(stand))
    return stand.phase === 'kept' ? (
      <p role="status">{stand.words}</p>
    ) : (
      <p className="problem" role="alert">
        {stand.words}
      </p>
    );
  return (
    <div className="sending" data-sending={stand.phase}>
      <label className="entry-row">
        <span>{standWords(stand)}</span>
        {/* Nobody knows how long reading takes: then the bar only moves. */}
        <progress {...(stand.phase === 'reading' ? {} : { value: stand.sent, max: stand.total })} />
      </label>
      <p className="quiet">This window may be closed meanwhile: it goes on.</p>
      <div className="acts">
        <button type="button" className="button" onClick={sending.stop}>
          Stop
        </button>
      </div>
    </div>
  );
}

const share = ({ sent, total }: { readonly sent: number; readonly total: number }): string =>
  `${Math.floor((100 * sent) / Math.max(1, total))} %`;

/** Where a file stands, in one line. */
export function standWords(stand: SendingStand): string {
  if (!underWay(stand)) return stand.words;
  const { phase, name } = stand;
  if (phase === 'reading') return `The server reads ${name}`;
  return phase === 'sending'
    ? `Sending ${name}, ${share(stand)}`
    : `No link. ${name} waits at ${share(stand)} and goes on by itself.`;
}
