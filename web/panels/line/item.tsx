import { useEffect, useRef } from 'react';
import type { PlanItem } from '../../../shared/gates/plan.ts';
import { fieldPattern, fieldPlaces } from '../../../shared/gates/planField.ts';
import { setTick } from '../../../shared/spec/commands.ts';
import type { GateId } from '../../../shared/spec/gateId.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { useNames } from '../punch/punch.tsx';
import { SpecField } from '../sheet/specField.tsx';
import { Photos } from './photos.tsx';

const pointWords = {
  hold: 'Hold: work stops until it is done',
  witness: 'Witness: whoever is named is called; work may go on',
  review: 'Review: the record is read afterwards',
} as const;

/** H, W or R, with what it means. */
export function Point({ point }: { readonly point: keyof typeof pointWords }): React.ReactNode {
  return (
    <span className="point" title={pointWords[point]}>
      <span aria-hidden="true">{point[0]?.toUpperCase()}</span>
      <span className="visually-hidden">{point} point</span>
    </span>
  );
}

/** What is measured for an item: the fields of the spec themselves, so that a value is typed once. */
function Measured({ field, text }: { readonly field: string; readonly text: string }): React.ReactNode {
  const { session } = useJob();
  const spec = useStore(session.spec);
  const places = fieldPlaces(field, spec);
  const label = fieldPattern(field)?.field.label ?? field;
  if (places.length === 0) return <p className="quiet">{label}: the sheet has no row to measure yet.</p>;
  return (
    <fieldset className="item-fields" aria-label={`Measured for: ${text}`}>
      {places.map(({ path, row }) => (
        <SpecField key={path} path={path} label={row === null ? label : `${row}: ${label}`} />
      ))}
    </fieldset>
  );
}

/** One item of a gate: tick, note, and what is measured for it. */
export function Item({ gate, item }: { readonly gate: GateId; readonly item: PlanItem }): React.ReactNode {
  const { session, canEdit } = useJob();
  const spec = useStore(session.spec);
  const focus = useStore(session.focus);
  const nameOf = useNames();
  const ref = useRef<HTMLLIElement>(null);
  const looked = focus?.kind === 'gate' && focus.id === `${gate}.${item.id}`;
  useEffect(() => {
    if (!looked) return;
    ref.current?.scrollIntoView({ block: 'center' });
    ref.current?.querySelector('input')?.focus();
  }, [looked]);
  const tick = spec.ticks[`${gate}.${item.id}`];
  const { photos = [] } = tick ?? {};
  const set = ({
    photos: shown = photos,
    ...change
  }: {
    done?: boolean;
    note?: string;
    photos?: readonly string[];
  }): void =>
    setTick(session.specDocument.doc, gate, item.id, {
      done: tick?.done ?? false,
      note: tick?.note ?? '',
      ...(shown.length > 0 && { photos: [...shown] }),
      ...change,
      by: session.me,
    });
  return (
    <li ref={ref} className={`item item-${item.point}`} data-item={item.id} data-looked={looked || undefined}>
      <label>
        <input
          type="checkbox"
          checked={tick?.done ?? false}
          disabled={!canEdit}
          onChange={(e) => set({ done: e.target.checked })}
        />
        <Point point={item.point} />
        <span>{item.text}</span>
      </label>
      <span className="quiet">{tick && `by ${nameOf(tick.by)}`}</span>
      <input
        key={tick?.note ?? ''}
        className="note"
        placeholder="note"
        aria-label={`Note to: ${item.text}`}
        defaultValue={tick?.note ?? ''}
        readOnly={!canEdit}
        maxLength={400}
        onBlur={(e) => e.target.value !== (tick?.note ?? '') && set({ note: e.target.value })}
      />
      <Photos text={item.text} photos={photos} canEdit={canEdit} onChange={(next) => set({ photos: next })} />
      {item.field !== undefined && <Measured field={item.field} text={item.text} />}
    </li>
  );
}
