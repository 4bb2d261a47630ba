import { fieldAt } from '../../../shared/spec/path.ts';
import { useStore } from '../../state/store.ts';
import { FieldInput } from '../../ui/fieldInput.tsx';
import { useJob } from '../job/context.ts';
import { useEntry, useRemark } from './useEntry.ts';

interface SpecFieldProps {
  readonly path: string;
  readonly label?: string;
  readonly hideLabel?: boolean;
}

/** A field of the spec bound to its path: live value, remarks, who else is in it. */
export function SpecField({ path, label, hideLabel = false }: SpecFieldProps): React.ReactNode {
  const { session, canEdit } = useJob();
  const field = fieldAt(path);
  const { stored, commit } = useEntry(path);
  const remark = useRemark(path, stored);
  const present = useStore(session.specDocument.present);
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
      onCommit={commit}
      onFocusField={(focused) => session.specDocument.showField(focused ? path : null)}
    />
  );
}
