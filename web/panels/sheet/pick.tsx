import { useJob } from '../job/context.ts';

interface PickProps {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly none: string;
  readonly options: readonly { readonly value: string; readonly label: string }[];
  readonly problem: string;
  readonly onPick: (value: string) => void;
}

/** A row of the sheet in which one of some things is chosen by its name. */
export function Pick({ id, label, value, none, options, problem, onPick }: PickProps): React.ReactNode {
  const { canEdit } = useJob();
  return (
    <div className="field">
      <label className="field-label" htmlFor={id}>
        {label}
      </label>
      <span className="field-value">
        <select id={id} value={value} disabled={!canEdit} onChange={(e) => onPick(e.target.value)}>
          <option value="">{none}</option>
          {options.map((one) => (
            <option key={one.value} value={one.value}>
              {one.label}
            </option>
          ))}
        </select>
      </span>
      <span className={problem === '' ? 'field-note' : 'field-problem'}>{problem}</span>
    </div>
  );
}
