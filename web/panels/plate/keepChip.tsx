import { keepChip } from '../../state/keep.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

const links = {
  connected: 'linked to the shop',
  offline: 'offline: edits stay here and merge later',
  connecting: 'looking for the shop',
} as const;

/** Where the edits are: on this device, on the wire, at the shop, checked. Never merged into one "saved". */
export function KeepChip(): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.specDocument.keep);
  const markup = useStore(session.markupDocument.keep);
  const feed = useStore(session.feed.state);
  const { state, text } = keepChip({
    link: spec.link,
    unconfirmed: spec.unconfirmed + markup.unconfirmed,
    unkept: spec.unkept + markup.unkept,
    specSeq: spec.seq,
    checkedSeq: feed.seq,
  });
  return (
    <div
      className={`plate-cell keep keep-${state}`}
      data-keep={state}
      data-link={spec.link}
      role="status"
      aria-live="polite"
    >
      <span className="keep-word">{text}</span>
      <span className="quiet">{links[spec.link]}</span>
      {!spec.deviceKeeps && (
        <span className="keep-warn">This browser keeps nothing: do not close the page while offline.</span>
      )}
      {(feed.trouble ?? feed.refused) && <span className="keep-warn">{feed.trouble ?? feed.refused}</span>}
    </div>
  );
}
