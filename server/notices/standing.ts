import { gateRow } from '../../shared/gates/gates.ts';
import type { GateView } from '../../shared/gates/readiness.ts';
import type { Role } from '../../shared/gates/roles.ts';
import type { Thread } from '../../shared/markup/markup.ts';
import { mentioned } from '../../shared/markup/mentions.ts';
import type { StandingNotice } from '../storage/notices.ts';
import type { Participant } from '../storage/ports.ts';

/** What of a live project people may have to be told of. */
export interface Scene {
  readonly gates: readonly GateView[];
  readonly threads: readonly Thread[];
  readonly people: readonly Participant[];
}

/** How much of a remark stands in a notice, characters. */
const QUOTE = 200;

/** All that stands now, for each person it concerns. Pure: told or not is for the records to know. */
export function standingNotices({ gates, threads, people }: Scene): readonly StandingNotice[] {
  return [...gates.flatMap((view) => [...waits(view, people), ...stale(view, people)]), ...mentions(threads, people)];
}

function waits({ gate, state }: GateView, people: readonly Participant[]): readonly StandingNotice[] {
  if (state.state !== 'ready') return [];
  const title = gateRow(gate).title;
  return state.awaiting.flatMap((role) =>
    // Who has signed there counts for one role only.
    holders(people, role)
      .filter(({ account }) => !state.current.some((one) => one.account === account.id))
      .map(({ account }) => ({
        ...{ accountId: account.id, kind: 'waits', subject: `waits ${gate} ${role}` },
        words: `${title} is ready: it waits for your signature as ${role}`,
        place: { kind: 'gate', gate },
      })),
  );
}

function holders(people: readonly Participant[], role: Role): readonly Participant[] {
  return people.filter(({ roles }) => roles.includes(role));
}

function stale({ gate, state }: GateView, people: readonly Participant[]): readonly StandingNotice[] {
  if (state.state !== 'stale') return [];
  const title = gateRow(gate).title;
  return state.stale.flatMap(({ signature, because }) => {
    // Who has left the job, or the role, has nothing to sign there.
    const still = people.some(
      ({ account, roles }) => account.id === signature.account && roles.includes(signature.role),
    );
    if (!still) return [];
    const moved = because.length === 1 ? '1 fact has moved' : `${because.length} facts have moved`;
    return [
      {
        ...{ accountId: signature.account, kind: 'stale', subject: `stale ${gate} ${signature.id}` },
        words: `${title}: your signature as ${signature.role} is stale, ${moved}`,
        place: { kind: 'gate', gate },
      },
    ];
  });
}

function mentions(threads: readonly Thread[], people: readonly Participant[]): readonly StandingNotice[] {
  const namable = people.map(({ account }) => account);
  return threads.flatMap(({ id, n, state, comments }) => {
    if (state !== 'open') return [];
    return comments.flatMap((comment) =>
      mentioned(comment.text, namable)
        .filter((account) => account.id !== comment.by)
        .map(
          (account): StandingNotice => ({
            ...{ accountId: account.id, kind: 'mention', subject: `mention ${id} ${comment.id}` },
            words: `Markup ${n} names you: ${comment.text.trim().slice(0, QUOTE)}`,
            place: { kind: 'thread', thread: id },
          }),
        ),
    );
  });
}
