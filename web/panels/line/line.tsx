import { gates } from '../../../shared/gates/gates.ts';
import type { GateView } from '../../../shared/gates/readiness.ts';
import { movedSince } from '../../state/gates.ts';
import { useStore } from '../../state/store.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { Mark, type MarkKind } from '../../ui/marks.tsx';
import { useJob } from '../job/context.ts';
import { GateSheet } from './gateSheet.tsx';

/** Mark and words of where a gate stands. */
export function gateWords(
  view: GateView | undefined,
  moved: boolean,
): { readonly mark: MarkKind; readonly words: string } {
  if (!view) return { mark: 'pending', words: 'waiting' };
  if (view.state.state === 'not-in-force') return { mark: 'none', words: notInForce(view.state) };
  // Signatures the server still shows as current do not cover what this device has changed.
  if (moved && view.state.state === 'signed') return { mark: 'stale', words: 'STALE with your edits' };
  if (moved) return { mark: 'pending', words: 'being checked' };
  switch (view.state.state) {
    case 'open':
      return { mark: 'outside', words: `held by ${view.state.blockers.length}` };
    case 'ready':
      return { mark: 'near', words: `waits for ${view.state.awaiting.join(' and ')}` };
    case 'signed':
      return { mark: 'within', words: 'signed' };
    case 'stale':
      return { mark: 'stale', words: 'STALE' };
  }
}

function notInForce({ left, offRoute }: Extract<GateView['state'], { state: 'not-in-force' }>): string {
  if (left !== undefined) return 'left out';
  return offRoute ? 'other route' : 'not in force yet';
}

/** The gates across one line, in the order the work meets them. A hold visibly blocks the line. */
export function TheLine(): React.ReactNode {
  const { session } = useJob();
  const feed = useStore(session.feed.state);
  const spec = useStore(session.spec);
  const focus = useStore(session.focus);
  const open = focus?.kind === 'gate' ? focus.id.split('.')[0] : null;
  const shown = gates.find((g) => g.id === open);
  return (
    <nav className="line" aria-label="The line: gates">
      <ol>
        {gates.map((gate) => {
          const view = feed.gates.find((v) => v.gate === gate.id);
          const moved = view !== undefined && movedSince(view, spec, feed);
          const { mark, words } = gateWords(view, moved);
          const known = view?.state.state ?? 'not-in-force';
          const state = moved && known === 'signed' ? 'stale' : known;
          return (
            <li key={gate.id} className={`gate gate-${state}`} data-gate={gate.id} data-state={state}>
              <button type="button" onClick={() => session.focus.set({ kind: 'gate', id: gate.id })}>
                <span className="gate-bar" aria-hidden="true" />
                <Mark kind={mark} />
                <span className="gate-title">{gate.title}</span>
                <span className="gate-state">{words}</span>
              </button>
            </li>
          );
        })}
      </ol>
      {shown && (
        <Dialog title={`Gate: ${shown.title}`} wide onClose={() => session.focus.set(null)}>
          <GateSheet gate={shown} />
        </Dialog>
      )}
    </nav>
  );
}
