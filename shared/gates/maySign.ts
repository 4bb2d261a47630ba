import type { GateView } from './readiness.ts';
import type { Role } from './roles.ts';

/** A wish to sign, judged against a gate's present state. */
export type SigningAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly code: 'facts-moved' | 'not-ready' | 'wrong-role' | 'already-signed' | 'same-person';
      readonly detail: string;
    };

/** Whether this account may now sign this gate in this role for facts it named by digest. Pure: the server asks it with a fresh evaluation. */
export function maySign(
  view: GateView,
  wish: { readonly digest: string; readonly role: Role; readonly account: string; readonly held: readonly Role[] },
): SigningAnswer {
  const no = (code: Exclude<SigningAnswer, { ok: true }>['code'], detail: string): SigningAnswer => ({
    ok: false,
    code,
    detail,
  });
  if (!view.signs.includes(wish.role) || !wish.held.includes(wish.role)) {
    return no(
      'wrong-role',
      `expected a signer with the role ${view.signs.join(' or ')}, got ${wish.held.join(', ') || 'none'}`,
    );
  }
  if (view.digest !== wish.digest)
    return no('facts-moved', 'the facts have changed since you looked; read them again before you sign');
  const { state } = view;
  if (state.state === 'not-in-force') return no('not-ready', notInForce(state));
  if (state.state === 'open' || (state.state === 'stale' && state.blockers.length > 0)) {
    return no('not-ready', `${state.blockers.length} points still keep this gate shut`);
  }
  const { current } = state;
  if (current.some((s) => s.role === wish.role))
    return no('already-signed', `the ${wish.role} has already signed these facts`);
  if (view.twoPeople && current.some((s) => s.account === wish.account)) {
    return no('same-person', 'each role of this gate needs its own person: another account has to sign in this one');
  }
  return { ok: true };
}

function notInForce({ offRoute, left }: Extract<GateView['state'], { state: 'not-in-force' }>): string {
  if (left !== undefined) return `the plan of this job leaves this gate out: ${left}`;
  return offRoute
    ? 'this gate belongs to a route that was not chosen'
    : 'this rule set has no checks for this gate yet';
}
