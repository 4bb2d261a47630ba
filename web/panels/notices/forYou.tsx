import { useState } from 'react';
import type { NoticeView } from '../../../shared/protocol/notices.ts';
import { useStore } from '../../state/store.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { Mark, type MarkKind } from '../../ui/marks.tsx';
import { useJob } from '../job/context.ts';
import { when } from '../revisions/when.ts';

const marks: Readonly<Record<NoticeView['kind'], MarkKind>> = { waits: 'near', mention: 'none', stale: 'stale' };

/** What one was told of, behind one button that counts what was not looked at yet. */
export function ForYou(): React.ReactNode {
  const { notices } = useJob();
  const list = useStore(notices.list);
  const [open, setOpen] = useState(false);
  const unread = list.filter(({ readAt }) => readAt === null);
  return (
    <div className="plate-cell for-you">
      <button
        type="button"
        className={unread.length > 0 ? 'button for-you-unread' : 'button'}
        data-unread={unread.length}
        onClick={() => setOpen(true)}
      >
        For you{unread.length > 0 ? ` (${unread.length})` : ''}
      </button>
      {open && <NoticeList list={list} onClose={() => setOpen(false)} />}
    </div>
  );
}

function NoticeList({
  list,
  onClose,
}: {
  readonly list: readonly NoticeView[];
  readonly onClose: () => void;
}): React.ReactNode {
  const { session, notices } = useJob();
  const go = ({ id, place }: NoticeView): void => {
    notices.read([id]);
    onClose();
    session.focus.set(
      place.kind === 'gate' ? { kind: 'gate', id: place.gate } : { kind: 'thread', id: place.thread, jump: true },
    );
  };
  const unread = list.filter(({ readAt }) => readAt === null).map(({ id }) => id);
  return (
    <Dialog title="For you" onClose={onClose}>
      {list.length === 0 && (
        <p className="quiet">
          Nothing. Here stands what waits for your signature, remarks that name you with @ and your name, and signatures
          of yours that went stale.
        </p>
      )}
      <ul className="notices" aria-label="Notices">
        {list.map((notice) => (
          <li key={notice.id} data-notice={notice.kind} data-read={notice.readAt !== null}>
            <button type="button" className="notice" onClick={() => go(notice)}>
              <Mark kind={marks[notice.kind]} />
              <span className="notice-words">{notice.words}</span>
              <span className="quiet">
                {when(notice.at)}
                {notice.readAt === null ? ', new' : ''}
              </span>
            </button>
          </li>
        ))}
      </ul>
      {unread.length > 0 && (
        <button type="button" className="button" onClick={() => notices.read(unread)}>
          Mark all as read
        </button>
      )}
    </Dialog>
  );
}
