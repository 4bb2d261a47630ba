import { useState } from 'react';
import { z } from 'zod';
import { gateRow, type PointKind } from '../../../shared/gates/gates.ts';
import {
  defaultPlan,
  type GatePlan,
  itemLimit,
  type Plan,
  type PlanItem,
  planOf,
  planProblems,
  textLimit,
} from '../../../shared/gates/plan.ts';
import { fieldChoices } from '../../../shared/gates/planField.ts';
import { type Role, roles } from '../../../shared/gates/roles.ts';
import type { GateId } from '../../../shared/spec/gateId.ts';
import { useStore } from '../../state/store.ts';
import { call } from '../../sync/api.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { timeId } from '../punch/punch.tsx';

const points: readonly PointKind[] = ['hold', 'witness', 'review'];
const isPoint = (text: string): text is PointKind => points.some((point) => point === text);

function PointSelect({
  value,
  label,
  onChange,
}: {
  readonly value: PointKind;
  readonly label: string;
  readonly onChange: (point: PointKind) => void;
}): React.ReactNode {
  return (
    <select value={value} aria-label={label} onChange={(e) => isPoint(e.target.value) && onChange(e.target.value)}>
      {points.map((point) => (
        <option key={point}>{point}</option>
      ))}
    </select>
  );
}

function ItemEditor({
  item,
  n,
  onChange,
  onRemove,
}: {
  readonly item: PlanItem;
  readonly n: number;
  readonly onChange: (item: PlanItem) => void;
  readonly onRemove: () => void;
}): React.ReactNode {
  const { field, ...bare } = item;
  return (
    <li className="plan-item" data-plan-item={item.id}>
      <PointSelect
        value={item.point}
        label={`Item ${n}: hold, witness or review`}
        onChange={(point) => onChange({ ...item, point })}
      />
      <input
        className="input-text"
        aria-label={`Item ${n}: what is checked`}
        value={item.text}
        maxLength={textLimit}
        onChange={(e) => onChange({ ...item, text: e.target.value })}
      />
      <select
        aria-label={`Item ${n}: what is measured for it`}
        value={field ?? ''}
        onChange={(e) => onChange(e.target.value === '' ? bare : { ...bare, field: e.target.value })}
      >
        <option value="">nothing measured</option>
        {fieldChoices.map((choice) => (
          <option key={choice.field} value={choice.field}>
            {choice.words}
          </option>
        ))}
      </select>
      <button type="button" className="button" onClick={onRemove}>
        Take out<span className="visually-hidden"> item {n}</span>
      </button>
    </li>
  );
}

function Signers({
  row,
  onChange,
}: {
  readonly row: GatePlan;
  readonly onChange: (row: GatePlan) => void;
}): React.ReactNode {
  const toggle = (role: Role, on: boolean): void =>
    onChange({ ...row, signs: on ? [...row.signs, role] : row.signs.filter((one) => one !== role) });
  return (
    <fieldset className="plan-signers">
      <legend>Who signs</legend>
      {roles.map((role) => (
        <label key={role}>
          <input type="checkbox" checked={row.signs.includes(role)} onChange={(e) => toggle(role, e.target.checked)} />{' '}
          {role}
        </label>
      ))}
      <label>
        <input
          type="checkbox"
          checked={row.twoPeople}
          onChange={(e) => onChange({ ...row, twoPeople: e.target.checked })}
        />{' '}
        each signer is another person
      </label>
    </fieldset>
  );
}

function LeftOut({
  row,
  onChange,
}: {
  readonly row: GatePlan;
  readonly onChange: (row: GatePlan) => void;
}): React.ReactNode {
  const { left, ...kept } = row;
  return (
    <div className="plan-left">
      <label>
        <input
          type="checkbox"
          checked={left !== undefined}
          onChange={(e) => onChange(e.target.checked ? { ...kept, left: '' } : kept)}
        />{' '}
        This job does without this gate
      </label>
      {left !== undefined && (
        <input
          className="input-text"
          aria-label="Why this job does without it"
          placeholder="why"
          value={left}
          maxLength={textLimit}
          onChange={(e) => onChange({ ...kept, left: e.target.value })}
        />
      )}
    </div>
  );
}

function GateEditor({
  row,
  onChange,
}: {
  readonly row: GatePlan;
  readonly onChange: (row: GatePlan) => void;
}): React.ReactNode {
  const put = (i: number, item: PlanItem | null): void =>
    onChange({ ...row, items: row.items.flatMap((one, k) => (k !== i ? [one] : item ? [item] : [])) });
  return (
    <>
      <p className="plan-point">
        This gate is a
        <PointSelect
          value={row.point}
          label="Hold, witness or review gate"
          onChange={(point) => onChange({ ...row, point })}
        />
        gate. <span className="quiet">Only a hold gate stops what comes after it.</span>
      </p>
      <LeftOut row={row} onChange={onChange} />
      <Signers row={row} onChange={onChange} />
      <h3>People check</h3>
      <ul className="plan-items">
        {row.items.map((item, i) => (
          <ItemEditor
            key={item.id}
            item={item}
            n={i + 1}
            onChange={(next) => put(i, next)}
            onRemove={() => put(i, null)}
          />
        ))}
      </ul>
      <button
        type="button"
        className="button"
        disabled={row.items.length >= itemLimit}
        onClick={() => onChange({ ...row, items: [...row.items, { id: `i${timeId()}`, point: 'hold', text: '' }] })}
      >
        Add an item
      </button>
    </>
  );
}

/** Change of what a gate asks for. The whole plan is sent with the one it was made from, and recorded with its reason. */
export function PlanEditor({
  gate,
  onClose,
}: {
  readonly gate: GateId;
  readonly onClose: () => void;
}): React.ReactNode {
  const { session } = useJob();
  const { planned, plan: inForce } = useStore(session.feed.state);
  // What was there when the dialog was opened: somebody else's change meanwhile is refused by the server, not written over.
  const [from] = useState(planned);
  const [plan, setPlan] = useState<Plan>(inForce);
  const [error, setError] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const row = planOf(plan, gate);
  const change = (next: GatePlan): void => setPlan(plan.map((one) => (one.gate === gate ? next : one)));
  const problems = planProblems(plan);
  const send = async (form: HTMLFormElement): Promise<void> => {
    const data = new FormData(form);
    const body = { plan, reason: data.get('reason'), replaces: from?.row ?? null, password: data.get('password') };
    setBusy(true);
    setError(null);
    try {
      await call('PUT', `/api/projects/${session.project.id}/plan`, { body, schema: z.object({ seq: z.number() }) });
      onClose();
    } catch (e) {
      setError(e instanceof Error ? e.message : String(e));
      setBusy(false);
    }
  };
  return (
    <Dialog title={`Plan of the gate: ${gateRow(gate).title}`} wide onClose={onClose}>
      <form
        className="plan-editor"
        onSubmit={(e) => {
          e.preventDefault();
          void send(e.currentTarget);
        }}
      >
        <GateEditor row={row} onChange={change} />
        <button type="button" className="button" onClick={() => change(planOf(defaultPlan, gate))}>
          Back to the usual plan
        </button>
        {problems.length > 0 && (
          <ul className="problem" aria-live="polite">
            {problems.map((problem) => (
              <li key={problem}>{problem}</li>
            ))}
          </ul>
        )}
        <p className="quiet">
          The change stands in the record. Signatures given under another plan of this gate go stale until it is signed
          again.
        </p>
        <div className="sign-rows">
          <label>
            Why the plan changes
            <input
              name="reason"
              className="input-text"
              required
              minLength={10}
              maxLength={textLimit}
              autoComplete="off"
            />
          </label>
          <label>
            Your password again
            <input name="password" type="password" autoComplete="current-password" required />
          </label>
          <button
            type="submit"
            className="button button-main"
            disabled={busy || problems.length > 0 || plan === inForce}
          >
            Put this plan in force
          </button>
        </div>
        {error !== null && (
          <p className="problem" role="alert">
            {error}
          </p>
        )}
      </form>
    </Dialog>
  );
}
