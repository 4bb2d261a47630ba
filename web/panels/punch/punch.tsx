import { useState } from 'react';
import { addComment, setThreadState } from '../../../shared/markup/commands.ts';
import type { Thread } from '../../../shared/markup/markup.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { Stops } from './stops.tsx';

/** Ids that sort in the order they were made, on any device. */
export function timeId(): string {
  return `${Date.now().toString(36)}${Math.floor(Math.random() * 36 ** 4)
    .toString(36)
    .padStart(4, '0')}`;
}

/** Name of an account in this project. */
export function useNames(): (account: string) => string {
  const { session } = useJob();
  const members = useStore(session.members);
  return (account) => members.find((m) => m.account.id === account)?.account.name ?? 'someone';
}

function Answer({ thread }: { readonly thread: Thread }): React.ReactNode {
  const { session } = useJob();
  const [text, setText] = useState('');
  const { doc } = session.markupDocument;
  const send = (): void => {
    if (text.trim() === '') return;
    addComment(doc, thread.id, { id: timeId(), by: session.me, text: text.trim() });
    setText('');
  };
  return (
    <form
      className="answer"
      onSubmit={(e) => {
        e.preventDefault();
        send();
      }}
    >
      <label>
        <span className="visually-hidden">Answer to {thread.n}</span>
        <textarea
          value={text}
          rows={2}
          maxLength={4000}
          placeholder="Answer"
          onChange={(e) => setText(e.target.value)}
        />
      </label>
      <div className="acts">
        <button type="submit" className="button button-main" disabled={text.trim() === ''}>
          Answer
        </button>
        <button
          type="button"
          className="button"
          onClick={() => setThreadState(doc, thread.id, thread.state === 'open' ? 'resolved' : 'open', session.me)}
        >
          {thread.state === 'open' ? 'Close out' : 'Open again'}
        </button>
      </div>
    </form>
  );
}

function ThreadRow({ thread }: { readonly thread: Thread }): React.ReactNode {
  const { session } = useJob();
  const nameOf = useNames();
  const focus = useStore(session.focus);
  const open = focus?.kind === 'thread' && focus.id === thread.id;
  const spec = useStore(session.spec);
  const runner =
    thread.anchor.kind === 'runner'
      ? spec.runners.find((r) => r.id === (thread.anchor.kind === 'runner' && thread.anchor.runner))
      : undefined;
  return (
    <li className={`thread thread-${thread.state}`} data-thread={thread.id} data-state={thread.state}>
      <button
        type="button"
        className="thread-row"
        aria-expanded={open}
        onClick={() => session.focus.set(open ? null : { kind: 'thread', id: thread.id })}
      >
        <span className="pin">{thread.n}</span>
        <span className="thread-text">{thread.comments[0]?.text ?? ''}</span>
        <span className="quiet">
          {runner?.name ?? (thread.anchor.kind === 'runner' ? 'runner gone' : 'in the bay')} ·{' '}
          {thread.state === 'open' ? 'open' : `closed by ${nameOf(thread.resolvedBy ?? '')}`}
        </span>
      </button>
      {open && (
        <div className="thread-body">
          <ol>
            {thread.comments.map((c) => (
              <li key={c.id}>
                <strong>{nameOf(c.by)}</strong> {c.text}
              </li>
            ))}
          </ol>
          <Answer thread={thread} />
        </div>
      )}
    </li>
  );
}

/** What stops the job and who must act, then everything pinned, numbered; the number is the pin in the bay. */
export function PunchList({
  onPin,
  pinning,
}: {
  readonly onPin: () => void;
  readonly pinning: boolean;
}): React.ReactNode {
  const { session } = useJob();
  const threads = useStore(session.threads);
  const open = threads.filter((t) => t.state === 'open');
  const closed = threads.filter((t) => t.state === 'resolved');
  return (
    <section className="punch" aria-label="Punch list">
      <Stops />
      <h3>Markups</h3>
      <button type="button" className={pinning ? 'button button-on' : 'button'} aria-pressed={pinning} onClick={onPin}>
        {pinning ? 'Point at the place in the bay' : 'Pin a markup'}
      </button>
      {threads.length === 0 && (
        <p className="quiet">Nothing pinned yet. Pin a markup where the talk is about the metal.</p>
      )}
      <ul className="threads">
        {[...open, ...closed].map((t) => (
          <ThreadRow key={t.id} thread={t} />
        ))}
      </ul>
    </section>
  );
}
