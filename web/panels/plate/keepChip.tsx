import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

/** Where the edits are: on this device, on the wire, at the shop, checked. Never merged into one "saved". */
export function KeepChip(): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.specDocument.keep);
  const markup = useStore(session.markupDocument.keep);
  const feed = useStore(session.feed.state);
  const unconfirmed = spec.unconfirmed + markup.unconfirmed;
  const unkept = spec.unkept + markup.unkept;
  const seq = Math.max(spec.seq, markup.seq, feed.seq);
  const { state, text } = chip({ link: spec.link, unconfirmed, unkept, seq, checked: feed.seq });
  return (
    <div className={`plate-cell keep keep-${state}`} data-keep={state} role="status" aria-live="polite">
      <span className="keep-word">{text}</span>
      <span className="quiet">
        {spec.link === 'connected'
          ? 'linked to the shop'
          : spec.link === 'offline'
            ? 'offline: edits stay here and merge later'
            : 'looking for the shop'}
      </span>
      {!spec.deviceKeeps && (
        <span className="keep-warn">This browser keeps nothing: do not close the page while offline.</span>
      )}
      {(feed.trouble ?? feed.refused) && <span className="keep-warn">{feed.trouble ?? feed.refused}</span>}
    </div>
  );
}

interface ChipInputs {
  readonly link: string;
  readonly unconfirmed: number;
  readonly unkept: number;
  readonly seq: number;
  readonly checked: number;
}

function chip({ link, unconfirmed, unkept, seq, checked }: ChipInputs): {
  readonly state: string;
  readonly text: string;
} {
  if (unconfirmed > 0 && link === 'connected') return { state: 'sent', text: `SENT ${unconfirmed}` };
  if (unconfirmed > 0)
    return unkept > 0
      ? { state: 'writing', text: 'KEEPING HERE' }
      : { state: 'here', text: `KEPT HERE ${unconfirmed}` };
  if (checked >= seq) return { state: 'checked', text: `CHECKED #${checked}` };
  return { state: 'shop', text: `KEPT AT SHOP #${seq}` };
}
