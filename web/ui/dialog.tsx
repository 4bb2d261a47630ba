import { useEffect, useId, useRef } from 'react';

interface DialogProps {
  readonly title: string;
  readonly onClose: () => void;
  readonly children: React.ReactNode;
  readonly wide?: boolean;
}

/** A modal sheet over the job: Escape or the button closes it, focus returns to where it was. */
export function Dialog({ title, onClose, children, wide = false }: DialogProps): React.ReactNode {
  const ref = useRef<HTMLDialogElement>(null);
  const heading = useId();
  useEffect(() => {
    const dialog = ref.current;
    if (dialog && !dialog.open) dialog.showModal();
  }, []);
  return (
    <dialog ref={ref} className={wide ? 'dialog dialog-wide' : 'dialog'} aria-labelledby={heading} onClose={onClose}>
      <header className="dialog-head">
        <h2 id={heading}>{title}</h2>
        <button type="button" className="button" onClick={() => ref.current?.close()}>
          Close
        </button>
      </header>
      <div className="dialog-body">{children}</div>
    </dialog>
  );
}
