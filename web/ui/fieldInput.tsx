import { useId, useState } from 'react';
import type { Field } from '../../shared/spec/field.ts';
import { checkTyped, type StoredValue, storedNumber, typedText } from '../../shared/spec/validate.ts';
import { formatNumber, formatSi } from '../../shared/units/format.ts';
import { displayUnit } from '../../shared/units/quantities.ts';

/** One entry of a list to choose from. */
export interface Choice {
  readonly value: string;
  readonly label: string;
}

export interface FieldInputProps {
  readonly path: string;
  readonly field: Field;
  /** As stored in the document; undefined when empty. */
  readonly stored: unknown;
  readonly label: string;
  readonly hideLabel?: boolean;
  readonly readOnly: boolean;
  /** Something elsewhere says about this field: a bend that does not fit, a missing input. */
  readonly remark?: string | undefined;
  /** What there is to choose from, where that is more than the field itself lists. */
  readonly choices?: readonly Choice[] | undefined;
  /** Others who are in this field now. */
  readonly editors: readonly string[];
  readonly onCommit: (value: StoredValue | null) => void;
  readonly onFocusField: (focused: boolean) => void;
}

function shownText(field: Field, stored: unknown): string {
  if (stored === undefined || stored === null) return '';
  const n = storedNumber(stored);
  if (field.kind === 'quantity' && n !== null) return formatNumber(field.quantity, n);
  return n === null ? String(stored) : String(n);
}

function parseNote(field: Field, draft: string): { readonly text: string; readonly bad: boolean } | null {
  if (draft.trim() === '') return null;
  const checked = checkTyped(field, draft);
  if (!checked.ok) return { text: checked.error, bad: true };
  const n = storedNumber(checked.value);
  return field.kind === 'quantity' && n !== null ? { text: `= ${formatSi(field.quantity, n)}`, bad: false } : null;
}

function hint(field: Field, stored: unknown): string {
  const typed = typedText(stored);
  return typed ? `${field.help} Typed as "${typed}".` : field.help;
}

/** One field of the spec. Text stays a draft until Enter or leaving the field; invalid text never leaves it; Escape takes it back. */
export function FieldInput(props: FieldInputProps): React.ReactNode {
  const { field, stored, label, path } = props;
  const choices = props.choices ?? (field.kind === 'choice' ? field.options.map(itself) : null);
  const id = useId();
  const [draft, setDraft] = useState<string | null>(null);
  const shown = draft ?? shownText(field, stored);
  const note = draft === null ? null : parseNote(field, draft);
  const problem = note?.bad ? note.text : props.remark;
  const commit = (text: string): void => {
    const checked = checkTyped(field, text);
    const empty = text.trim() === '';
    if (text !== shownText(field, stored) && !empty && !checked.ok) return;
    if (empty && stored !== undefined) props.onCommit(null);
    else if (checked.ok && text !== shownText(field, stored)) props.onCommit(checked.value);
    setDraft(null);
  };
  const unit =
    field.kind === 'quantity' && displayUnit(field.quantity).symbol !== '1' ? displayUnit(field.quantity).symbol : '';
  return (
    <div
      className={`field${problem ? ' field-bad' : ''}${stored === undefined ? ' field-empty' : ''}`}
      title={hint(field, stored)}
    >
      <label htmlFor={id} className={props.hideLabel ? 'visually-hidden' : 'field-label'}>
        {label}
      </label>
      <span className="field-value">
        {choices ? (
          <select
            id={id}
            data-path={path}
            value={shown}
            disabled={props.readOnly}
            onFocus={() => props.onFocusField(true)}
            onBlur={() => props.onFocusField(false)}
            onChange={(e) => props.onCommit(e.target.value === '' ? null : e.target.value)}
          >
            <option value="">choose</option>
            {choices.map((o) => (
              <option key={o.value} value={o.value}>
                {o.label}
              </option>
            ))}
          </select>
        ) : (
          <input
            id={id}
            data-path={path}
            className={
              field.kind === 'text'
                ? 'input-text'
                : field.kind === 'sequence'
                  ? 'input-number input-sequence'
                  : 'input-number'
            }
            value={shown}
            readOnly={props.readOnly}
            inputMode={field.kind === 'text' ? 'text' : 'decimal'}
            autoComplete="off"
            spellCheck={false}
            aria-invalid={problem !== undefined}
            aria-describedby={`${id}-note`}
            onFocus={() => props.onFocusField(true)}
            onChange={(e) => setDraft(e.target.value)}
            onBlur={() => {
              props.onFocusField(false);
              if (draft !== null) commit(draft);
            }}
            onKeyDown={(e) => {
              if (e.key === 'Enter' && draft !== null) commit(draft);
              if (e.key === 'Escape') setDraft(null);
            }}
          />
        )}
        {unit && <span className="unit">{unit}</span>}
        {props.editors.map((name) => (
          <span key={name} className="editor" title={`${name} is in this field`}>
            {initials(name)}
          </span>
        ))}
      </span>
      <span id={`${id}-note`} className={problem ? 'field-problem' : 'field-note'} role={problem ? 'alert' : undefined}>
        {problem ?? note?.text ?? ''}
      </span>
    </div>
  );
}

const itself = (value: string): Choice => ({ value, label: value });

/** Up to two initials of a name. */
export function initials(name: string): string {
  const words = name.trim().split(/\s+/);
  return ((words[0]?.[0] ?? '?') + (words.length > 1 ? (words.at(-1)?.[0] ?? '') : '')).toUpperCase();
}
