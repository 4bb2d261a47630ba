import { useEffect, useRef, useState } from 'react';

interface NewMarkupProps {
  readonly onText: (text: string) => void;
  readonly onCancel: () => void;
}

/** The first words of a markup, once its place is chosen. */
export function NewMarkup({ onText, onCancel }: NewMarkupProps): React.ReactNode {
  const [text, setText] = useState('');
  const box = useRef<HTMLTextAreaElement>(null);
  useEffect(() => box.current?.focus(), []);
  return (
    <form
      className="new-markup"
      onSubmit={(e) => {
        e.preventDefault();
        if (text.trim() !== '') onText(text.trim());
      }}
    >
      <label>
        What about this place?
        <textarea
          value={text}
          rows={3}
          maxLength={4000}
          ref={box}
          onChange={(e) => setText(e.target.value)}
          onKeyDown={(e) => e.key === 'Escape' && onCancel()}
        />
      </label>
      <div className="acts">
        <button type="submit" className="button button-main" disabled={text.trim() === ''}>
          Pin it
        </button>
        <button type="button" className="button" onClick={onCancel}>
          Leave it
        </button>
      </div>
    </form>
  );
}
