import { type NoticeView, noticeListSchema } from '../../shared/protocol/notices.ts';
import { call, nothing } from '../sync/api.ts';
import type { Feed } from '../sync/feed.ts';
import { createStore, type Store } from './store.ts';

/** What one was told of in this job. */
export interface NoticeShelf {
  /** Newest first. */
  readonly list: Store<readonly NoticeView[]>;
  /** Marks as read, here at once. */
  read(ids: readonly string[]): void;
  close(): void;
}

export function openNoticeShelf(project: string, feed: Pick<Feed, 'notices'>): NoticeShelf {
  const home = `/api/projects/${project}/notices`;
  const list = createStore<readonly NoticeView[]>([]);
  const refresh = (): void => {
    // Without a link the last list stands; the next one comes with the next connection.
    call('GET', home, { schema: noticeListSchema }).then(
      ({ notices }) => list.set(notices),
      () => undefined,
    );
  };
  refresh();
  const close = feed.notices.subscribe(refresh);
  return {
    list,
    read(ids) {
      const unread = list.get().filter(({ id, readAt }) => readAt === null && ids.includes(id));
      if (unread.length === 0) return;
      const readAt = new Date().toISOString();
      list.set(list.get().map((one) => (unread.includes(one) ? { ...one, readAt } : one)));
      call('POST', `${home}/read`, { body: { ids: unread.map(({ id }) => id) }, schema: nothing }).catch(refresh);
    },
    close,
  };
}
