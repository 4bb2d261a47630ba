import { useEffect, useState } from 'react';
import { factTitle } from '../../../shared/gates/factWords.ts';
import { fieldAt } from '../../../shared/spec/path.ts';
import { useStore } from '../../state/store.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { ChangeList } from './changeList.tsx';

/** Below the sheet: what the field is that was last entered, and who changed it. Stays put, so that nothing jumps under a finger. */
export function FieldFoot(): React.ReactNode {
  const { session, touched } = useJob();
  const path = useStore(touched);
  const spec = useStore(session.spec);
  const [open, setOpen] = useState(false);
  useEffect(() => {
    const onKey = (e: KeyboardEvent): void => {
      if (!e.altKey || e.key.toLowerCase() !== 'h' || touched.get() === null) return;
      e.preventDefault();
      setOpen(true);
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [touched]);
  if (path === null) return null;
  const title = factTitle(path, spec);
  return (
    <aside className="field-foot" aria-label="The field you were in">
      <p>
        <strong>{title}</strong>
        <span className="quiet field-help">{fieldAt(path)?.help}</span>
      </p>
      <button type="button" className="button" aria-keyshortcuts="Alt+H" title="Alt+H" onClick={() => setOpen(true)}>
        Who changed it
      </button>
      {open && (
        <Dialog title={`Who changed it: ${title}`} onClose={() => setOpen(false)}>
          <ChangeList path={path} />
        </Dialog>
      )}
    </aside>
  );
}
