import { factTitle, factWords } from '../../../shared/gates/factWords.ts';
import type { ChecklistItem, Gate } from '../../../shared/gates/gates.ts';
import type { Blocker, GateView, SignatureView, StaleSignature } from '../../../shared/gates/readiness.ts';
import { rules } from '../../../shared/rules/registry.ts';
import { setTick } from '../../../shared/spec/commands.ts';
import type { Spec } from '../../../shared/spec/spec.ts';
import { movedSince } from '../../state/gates.ts';
import { useStore } from '../../state/store.ts';
import { Mark } from '../../ui/marks.tsx';
import { wordsOf } from '../checks/checks.tsx';
import { useJob } from '../job/context.ts';
import { useNames } from '../punch/punch.tsx';
import { TheRecord } from './record.tsx';
import { SignForm } from './signForm.tsx';

function Item({ gate, item }: { readonly gate: Gate; readonly item: ChecklistItem }): React.ReactNode {
  const { session, canEdit } = useJob();
  const spec = useStore(session.spec);
  const nameOf = useNames();
  const tick = spec.ticks[`${gate.id}.${item.id}`];
  const set = (change: { done?: boolean; note?: string }): void =>
    setTick(session.specDocument.doc, gate.id, item.id, {
      done: tick?.done ?? false,
      note: tick?.note ?? '',
      ...change,
      by: session.me,
    });
  return (
    <li className={`item item-${item.point}`}>
      <label>
        <input
          type="checkbox"
          checked={tick?.done ?? false}
          disabled={!canEdit}
          onChange={(e) => set({ done: e.target.checked })}
        />
        <span className="point" title={`${item.point} point`}>
          {item.point[0]?.toUpperCase()}
        </span>
        <span>{item.text}</span>
      </label>
      {tick && <span className="quiet">by {nameOf(tick.by)}</span>}
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
    </li>
  );
}

function BlockerRow({ blocker }: { readonly blocker: Blocker }): React.ReactNode {
  const { session } = useJob();
  const verdicts = useStore(session.verdicts);
  if (blocker.kind === 'item') return <li>Not ticked: {blocker.text}</li>;
  if (blocker.kind === 'gate') return <li>Gate not signed: {blocker.gate}</li>;
  const shown = verdicts.get(blocker.verdict);
  const rule = rules.find((r) => r.id === shown?.verdict.rule);
  if (!shown || !rule) {
    const silent = rules.find((r) => blocker.verdict === `${r.id}/subjects`);
    return <li>{silent ? `${silent.title}: the spec has nothing it could judge yet.` : blocker.verdict}</li>;
  }
  const words = wordsOf(shown, rule);
  return (
    <li>
      <Mark kind={words.mark} /> {rule.title}: {shown.verdict.subject.name}. {words.label}
    </li>
  );
}

function Signed({
  signature,
  stale = false,
}: {
  readonly signature: SignatureView;
  readonly stale?: boolean;
}): React.ReactNode {
  return (
    <p className={stale ? 'signature signature-stale' : 'signature'}>
      <Mark kind={stale ? 'stale' : 'within'} /> {signature.name} as {signature.role}, {signature.meaning},{' '}
      {new Date(signature.at).toLocaleString()}
      <span className="digest"> facts {signature.digest.slice(0, 16)}</span>
    </p>
  );
}

function Moved({ stale, spec }: { readonly stale: StaleSignature; readonly spec: Spec }): React.ReactNode {
  return (
    <div className="moved" data-testid="stale">
      <Signed signature={stale.signature} stale />
      <p>This signature speaks of other facts. What moved since:</p>
      <table className="facts">
        <thead>
          <tr>
            <th scope="col">Fact</th>
            <th scope="col">Signed</th>
            <th scope="col">Now</th>
          </tr>
        </thead>
        <tbody>
          {stale.because.slice(0, 50).map((c) => (
            <tr key={c.path}>
              <th scope="row">{factTitle(c.path, spec)}</th>
              <td>{factWords(c.path, c.before, spec)}</td>
              <td>{factWords(c.path, c.after, spec)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {stale.ruleSet !== undefined && <p>It was given under rule set {stale.ruleSet}.</p>}
    </div>
  );
}

function Standing({ view, spec }: { readonly view: GateView; readonly spec: Spec }): React.ReactNode {
  const { state } = view;
  if (state.state === 'not-in-force') {
    return (
      <p>
        {state.offRoute
          ? 'This gate belongs to a route that was not chosen: it is passed by.'
          : 'This rule set has no checks for this gate yet, so it cannot be signed.'}
      </p>
    );
  }
  const blockers = state.state === 'open' || state.state === 'stale' ? state.blockers : [];
  const { current } = state;
  return (
    <>
      {state.state === 'stale' && state.stale.map((s) => <Moved key={s.signature.id} stale={s} spec={spec} />)}
      {current.map((s) => (
        <Signed key={s.id} signature={s} />
      ))}
      {state.state === 'ready' && <p>Ready. Waits for {state.awaiting.join(' and ')}.</p>}
      {state.state === 'signed' && <p>Signed by everybody who has to.</p>}
      {blockers.length > 0 && (
        <>
          <h3>Holds the gate ({blockers.length})</h3>
          <ul className="blockers">
            {blockers.map((b) => (
              <BlockerRow key={JSON.stringify(b)} blocker={b} />
            ))}
          </ul>
        </>
      )}
    </>
  );
}

/** One gate: caution, checklist, what holds it, signatures and the form to sign. */
export function GateSheet({ gate }: { readonly gate: Gate }): React.ReactNode {
  const { session } = useJob();
  const feed = useStore(session.feed.state);
  const spec = useStore(session.spec);
  const view = feed.gates.find((v) => v.gate === gate.id);
  return (
    <div className="gate-sheet">
      <p className="caution">{gate.caution}</p>
      <h3>People check</h3>
      <ul className="items">
        {gate.items.map((item) => (
          <Item key={item.id} gate={gate} item={item} />
        ))}
      </ul>
      <h3>Where it stands</h3>
      {view && movedSince(view, spec) && (
        <p className="moved-here">
          This device has edits the server has not judged yet: what stands here does not cover them.
        </p>
      )}
      {view ? <Standing view={view} spec={spec} /> : <p>Waiting for the server.</p>}
      {view && view.state.state !== 'not-in-force' && <SignForm gate={gate} view={view} />}
      <TheRecord />
    </div>
  );
}
