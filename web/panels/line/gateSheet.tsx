import { useState } from 'react';
import { factTitle, factWords } from '../../../shared/gates/factWords.ts';
import { type Gate, gateRow } from '../../../shared/gates/gates.ts';
import { planOf } from '../../../shared/gates/plan.ts';
import type { Blocker, GateView, SignatureView, StaleSignature } from '../../../shared/gates/readiness.ts';
import { may } from '../../../shared/protocol/roles.ts';
import { rules } from '../../../shared/rules/registry.ts';
import type { Spec } from '../../../shared/spec/spec.ts';
import { movedSince } from '../../state/gates.ts';
import { useStore } from '../../state/store.ts';
import { Cautions } from '../../ui/caution.tsx';
import { Mark } from '../../ui/marks.tsx';
import { wordsOf } from '../checks/checks.tsx';
import { useJob } from '../job/context.ts';
import { AcceptOutside, GateConcessions } from './concessions.tsx';
import { Item, Point } from './item.tsx';
import { PlanEditor } from './planEditor.tsx';
import { TheRecord } from './record.tsx';
import { SignForm } from './signForm.tsx';

function BlockerRow({ blocker }: { readonly blocker: Blocker }): React.ReactNode {
  const { session } = useJob();
  const verdicts = useStore(session.verdicts);
  if (blocker.kind === 'item')
    return (
      <li>
        {blocker.unmeasured ? 'Not measured' : 'Not ticked'}: {blocker.text}
      </li>
    );
  if (blocker.kind === 'gate') return <li>Gate not signed: {gateRow(blocker.gate).title}</li>;
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
      {blocker.lapsed && <span className="quiet"> A concession was given for it, which no longer covers it.</span>}
      {blocker.status === 'fail' && <AcceptOutside verdict={shown.verdict} />}
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
        {state.left !== undefined && `The plan of this job leaves this gate out: ${state.left}`}
        {state.left === undefined &&
          (state.offRoute
            ? 'This gate belongs to a route that was not chosen: it is passed by.'
            : 'This rule set has no checks for this gate yet, so it cannot be signed.')}
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
      {state.state === 'stale' && state.stale.length === 0 && (
        <p className="moved">
          Stale because a gate before it is: {state.upstream.map((id) => gateRow(id).title).join(', ')}. It stands again
          when those are signed again and nothing of its own has moved.
        </p>
      )}
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

/** What the plan asks of the gate, and who put that in force. */
function Planned({ gate }: { readonly gate: Gate }): React.ReactNode {
  const { session } = useJob();
  const { plan, planned } = useStore(session.feed.state);
  const [editing, setEditing] = useState(false);
  const row = planOf(plan, gate.id);
  return (
    <>
      <h3>People check</h3>
      <p className="quiet">
        <Point point={row.point} /> {row.point} gate, signed by {row.signs.join(' and ')}
        {row.twoPeople && row.signs.length > 1 && ', each another person'}.
        {planned?.by && ` Plan by ${planned.by.name}: ${planned.reason ?? ''}`}
      </p>
      <ul className="items">
        {row.items.map((item) => (
          <Item key={item.id} gate={gate.id} item={item} />
        ))}
      </ul>
      {row.items.length === 0 && <p className="quiet">Nothing: the plan asks for no item here.</p>}
      {may(session.project.roles, 'plan') && planned && (
        <button type="button" className="button" onClick={() => setEditing(true)}>
          Edit the plan
        </button>
      )}
      {editing && <PlanEditor gate={gate.id} onClose={() => setEditing(false)} />}
    </>
  );
}

/** One gate: caution, checklist, what holds it, what was accepted, signatures and the form to sign. */
export function GateSheet({ gate }: { readonly gate: Gate }): React.ReactNode {
  const { session } = useJob();
  const feed = useStore(session.feed.state);
  const spec = useStore(session.spec);
  const view = feed.gates.find((v) => v.gate === gate.id);
  return (
    <div className="gate-sheet">
      <Cautions gate={gate.id} otherwise={gate.caution} />
      <Planned gate={gate} />
      <h3>Where it stands</h3>
      {view && movedSince(view, spec, feed) && (
        <p className="moved-here">
          This device has edits the server has not judged yet: what stands here does not cover them.
        </p>
      )}
      {view ? <Standing view={view} spec={spec} /> : <p>Waiting for the server.</p>}
      <GateConcessions gate={gate.id} />
      {view && view.state.state !== 'not-in-force' && <SignForm gate={gate} view={view} />}
      <TheRecord />
    </div>
  );
}
