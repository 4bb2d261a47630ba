import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

/** Edits the server refused: says why, keeps them readable, and goes back to the shop's state only when the person says so. */
export function NotTakenTray({ onReopen }: { readonly onReopen: () => void }): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.specDocument.refused);
  const markup = useStore(session.markupDocument.refused);
  const message = spec ?? markup;
  if (!message) return null;
  const start = async (): Promise<void> => {
    await (spec ? session.specDocument : session.markupDocument).forget();
    onReopen();
  };
  return (
    <div className="not-taken" role="alert">
      <p>
        The server did not take your last edits: {message.reason}. What you see here still holds them; copy what you
        need, then go back to the state at the shop.
      </p>
      <button type="button" className="button" onClick={() => void start()}>
        Go back to the state at the shop
      </button>
    </div>
  );
}
