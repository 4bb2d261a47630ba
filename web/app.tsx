import { useEffect, useState } from 'react';
import { type SessionView, sessionSchema } from '../shared/protocol/http.ts';
import { AcceptInvite, Jobs, SignIn } from './panels/entry/entry.tsx';
import { JobScreen } from './panels/job/jobScreen.tsx';
import { call } from './sync/api.ts';

function useAddress(): readonly [string, (path: string) => void] {
  const [path, setPath] = useState(location.pathname);
  useEffect(() => {
    const back = (): void => setPath(location.pathname);
    window.addEventListener('popstate', back);
    return () => window.removeEventListener('popstate', back);
  }, []);
  const go = (next: string): void => {
    history.pushState(null, '', next);
    setPath(location.pathname);
  };
  return [path, go];
}

/** Chooses the screen by address: `/invite/<token>`, `/j/<job>`, else the list of jobs. Links work signed out: sign-in comes first. */
export function App(): React.ReactNode {
  const [session, setSession] = useState<SessionView | null>(null);
  const [error, setError] = useState<string | null>(null);
  const [path, go] = useAddress();
  const [, kind, id] = path.split('/');
  useEffect(() => {
    call('GET', '/api/session', { schema: sessionSchema }).then(setSession, (e: Error) => setError(e.message));
  }, []);
  if (error)
    return (
      <main className="entry">
        <p className="problem" role="alert">
          {error}
        </p>
      </main>
    );
  if (!session)
    return (
      <main className="entry">
        <p>Opening.</p>
      </main>
    );
  if (kind === 'invite' && id) {
    const joined = async (project: string): Promise<void> => {
      setSession(await call('GET', '/api/session', { schema: sessionSchema }));
      go(`/j/${project}`);
    };
    return <AcceptInvite token={id} session={session} onDone={(project) => void joined(project)} />;
  }
  if (!session.account) return <SignIn setup={session.setup} onDone={setSession} />;
  if (kind === 'j' && id) return <JobScreen key={id} id={id} account={session.account} onLeave={() => go('/')} />;
  return <Jobs onOpen={(job) => go(`/j/${job}`)} />;
}
