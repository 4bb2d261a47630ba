import { memo } from 'react';
import { fieldAt } from '../../../shared/spec/path.ts';
import type { OwnMaterial } from '../../../shared/spec/spec.ts';
import { usePart, useStore } from '../../state/store.ts';
import { type Choice, FieldInput } from '../../ui/fieldInput.tsx';
import { useJob } from '../job/context.ts';
import { useEntry, useRemark } from './useEntry.ts';

interface SpecFieldProps {
  readonly path: string;
  readonly label?: string;
  readonly hideLabel?: boolean;
  /** Words for the options of a choice, where the stored ones say too little. */
  readonly choices?: readonly Choice[];
}

/** A field of the spec bound to its path: live value, remarks, who else is in it. */
export const SpecField = memo(function SpecField({
  path,
  label,
  hideLabel = false,
  choices,
}: SpecFieldProps): React.ReactNode {
  const { session, canEdit, touched } = useJob();
  const field = fieldAt(path);
  const { stored, commit } = useEntry(path);
  const remark = useRemark(path, stored);
  const present = useStore(session.specDocument.present);
  const own = usePart(session.spec, (spec) => spec.materials);
  if (!field) return null;
  const editors = present.filter((p) => !p.me && p.field === path).map((p) => p.name);
  return (
    <FieldInput
      path={path}
      field={field}
      stored={stored}
      label={label ?? field.label}
      hideLabel={hideLabel}
      readOnly={!canEdit}
      remark={remark}
      editors={[...new Set(editors)]}
      choices={field.kind === 'material' ? metalChoices(field.options, own, stored) : choices}
      onCommit={commit}
      onFocusField={(focused) => {
        session.specDocument.showField(focused ? path : null);
        if (focused) touched.set(path);
      }}
    />
  );
});

/** The listed metals, the job's own beside them, and what is stored even when nothing has that id any more. */
function metalChoices(listed: readonly string[], own: readonly OwnMaterial[], stored: unknown): readonly Choice[] {
  const choices = [
    ...listed.map((value) => ({ value, label: value })),
    ...own.map((row) => ({ value: row.id, label: `${row.name ?? row.id} (own)` })),
  ];
  if (typeof stored !== 'string' || choices.some(({ value }) => value === stored)) return choices;
  return [...choices, { value: stored, label: `${stored} (not there)` }];
}
