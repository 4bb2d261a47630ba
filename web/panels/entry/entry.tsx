import { useEffect, useState } from 'react';
import { z } from 'zod';
import {
  acceptedInviteSchema,
  type Offer,
  offerSchema,
  type ProjectView,
  projectListSchema,
  projectSchema,
  type SessionView,
  sessionSchema,
} from '../../../shared/protocol/http.ts';
import { call } from '../../sync/api.ts';
import { EntryForm, type EntryRow } from './form.tsx';

const LOGIN: EntryRow = { name: 'login', label: 'Login', autoComplete: 'username' };
const PASSWORD: EntryRow = { name: 'password', label: 'Password', type: 'password', autoComplete: 'current-password' };
const NEW_PASSWORD: EntryRow = {
  name: 'password',
  label: 'Password',
  type: 'password',
  autoComplete: 'new-password',
  hint: 'At least 15 characters; a few words are fine.',
};
const NAME: EntryRow = {
  name: 'name',
  label: 'Your name',
  autoComplete: 'name',
  hint: 'Shown to the others and on signatures.',
};

function Frame({ title, children }: { readonly title: string; readonly children: React.ReactNode }): React.ReactNode {
  return (
    <main className="entry">
      <p className="entry-name">Slipjoint</p>
      <h1>{title}</h1>
      {children}
    </main>
  );
}

/** Sign-in, or the first account with the code from the server's console. */
export function SignIn({
  setup,
  onDone,
}: {
  readonly setup: boolean;
  readonly onDone: (s: SessionView) => void;
}): React.ReactNode {
  if (setup) {
    return (
      <Frame title="Set up this shop">
        <p>The server's console shows a setup code. It makes the first account, which leads the shop's jobs.</p>
        <EntryForm
          rows={[{ name: 'code', label: 'Setup code' }, NAME, LOGIN, NEW_PASSWORD]}
          action="Make the first account"
          onSubmit={async (body) => onDone(await call('POST', '/api/setup', { body, schema: sessionSchema }))}
        />
      </Frame>
    );
  }
  return (
    <Frame title="Sign in">
      <EntryForm
        rows={[LOGIN, PASSWORD]}
        action="Sign in"
        onSubmit={async (body) => onDone(await call('POST', '/api/session', { body, schema: sessionSchema }))}
      />
    </Frame>
  );
}

interface InviteProps {
  readonly token: string;
  readonly session: SessionView;
  readonly onDone: (project: string) => void;
}

/** What an invite link offers, before anything is accepted. */
export function AcceptInvite({ token, session, onDone }: InviteProps): React.ReactNode {
  const [offer, setOffer] = useState<Offer | null>(null);
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    call('GET', `/api/invites/${token}`, { schema: offerSchema }).then(setOffer, (e: Error) => setError(e.message));
  }, [token]);
  const accept = async (body: unknown): Promise<void> =>
    onDone((await call('POST', `/api/invites/${token}`, { body, schema: acceptedInviteSchema })).projectId);
  if (error)
    return (
      <Frame title="Invite">
        <p className="problem" role="alert">
          {error}
        </p>
      </Frame>
    );
  if (!offer)
    return (
      <Frame title="Invite">
        <p>Reading the invite.</p>
      </Frame>
    );
  return (
    <Frame title={`Join ${offer.project}`}>
      <p>
        {offer.inviter} invites you as <strong>{offer.role}</strong>.
      </p>
      {session.account ? (
        <EntryForm rows={[]} action={`Join as ${session.account.name}`} onSubmit={() => accept({ accept: true })} />
      ) : (
        <EntryForm rows={[NAME, LOGIN, NEW_PASSWORD]} action="Make my account and join" onSubmit={accept} />
      )}
    </Frame>
  );
}

/** All jobs of the signed-in person. */
export function Jobs({ onOpen }: { readonly onOpen: (id: string) => void }): React.ReactNode {
  const [jobs, setJobs] = useState<readonly ProjectView[] | null>(null);
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    call('GET', '/api/projects', { schema: projectListSchema }).then(
      (r) => setJobs(r.projects),
      (e: Error) => setError(e.message),
    );
  }, []);
  return (
    <Frame title="Jobs">
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
      <ul className="jobs">
        {jobs?.map((job) => (
          <li key={job.id}>
            <button type="button" className="job-row" onClick={() => onOpen(job.id)}>
              <span className="job-name">{job.name}</span>
              <span className="job-roles">{job.roles.join(', ')}</span>
            </button>
          </li>
        ))}
      </ul>
      {jobs?.length === 0 && <p>No job yet. Start one below, or open an invite link.</p>}
      <EntryForm
        rows={[{ name: 'name', label: 'New job' }]}
        action="Start the job"
        onSubmit={async (body) => onOpen((await call('POST', '/api/projects', { body, schema: projectSchema })).id)}
      />
    </Frame>
  );
}

/** Ends the session. */
export async function signOut(): Promise<void> {
  await call('DELETE', '/api/session', { schema: z.unknown() });
}
