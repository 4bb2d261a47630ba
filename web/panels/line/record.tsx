import { useEffect, useState } from 'react';
import { type SignedHead, shortHead } from '../../../shared/record/head.ts';
import { recordHeadSchema } from '../../../shared/record/recordFile.ts';
import { useStore } from '../../state/store.ts';
import { call, fetchBytes } from '../../sync/api.ts';
import type { FeedState } from '../../sync/feed.ts';
import { keepFile } from '../../ui/keepFile.ts';
import { useJob } from '../job/context.ts';

type Shown =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'head'; readonly head: SignedHead | null }
  | { readonly kind: 'problem'; readonly text: string };

const words = (error: unknown): string => (error instanceof Error ? error.message : String(error));

/** Changes when anything has been signed or decided, and not with each edit. */
function writtenSoFar({ gates, planned, concessions }: FeedState): string {
  const decided = concessions.map(({ hash, ended }) => hash + (ended?.at ?? ''));
  const signed = gates
    .flatMap(({ state }) => {
      const current = state.state === 'not-in-force' ? [] : state.current;
      const stale = state.state === 'stale' ? state.stale.map((s) => s.signature) : [];
      return [...current, ...stale].map(({ id }) => id);
    })
    .sort();
  return [planned?.row, ...decided, ...signed].join();
}

function useHead(project: string, signed: string): Shown {
  const [shown, setShown] = useState<Shown>({ kind: 'waiting' });
  // biome-ignore lint/correctness/useExhaustiveDependencies: what was signed makes a new head.
  useEffect(() => {
    let wanted = true;
    const show = (next: Shown): void => {
      if (wanted) setShown(next);
    };
    call('GET', `/api/projects/${project}/record/head`, { schema: recordHeadSchema }).then(
      ({ head }) => show({ kind: 'head', head }),
      (error: unknown) => show({ kind: 'problem', text: words(error) }),
    );
    return () => {
      wanted = false;
    };
  }, [project, signed]);
  return shown;
}

function Head({ head }: { readonly head: SignedHead }): React.ReactNode {
  return (
    <>
      <p>
        Head <strong className="record-head">{shortHead(head.root)}</strong> over {head.size}{' '}
        {head.size === 1 ? 'row' : 'rows'}, {new Date(head.at).toLocaleString()}
      </p>
      <p className="quiet">
        Write it down, on paper or elsewhere: with it anybody can see later whether anything that was signed or decided
        in this job was changed, left out or put in. The file holds it all and is verified without this server:{' '}
        <code>slipjoint verify record.json</code>
      </p>
      <p className="digest">key of this server {head.key}</p>
    </>
  );
}

/** The record of all that was signed or decided in the job: its head, and the file that can be verified elsewhere. */
export function TheRecord(): React.ReactNode {
  const { session } = useJob();
  const feed = useStore(session.feed.state);
  const project = session.project.id;
  const shown = useHead(project, writtenSoFar(feed));
  const [problem, setProblem] = useState<string | null>(null);
  const take = async (): Promise<void> => {
    setProblem(null);
    try {
      const bytes = await fetchBytes(`/api/projects/${project}/record`, true);
      keepFile(bytes, 'record.json', 'application/json');
    } catch (error) {
      setProblem(words(error));
    }
  };
  const trouble = problem ?? (shown.kind === 'problem' ? shown.text : null);
  return (
    <section className="record" data-testid="record">
      <h3>The record of this job</h3>
      {shown.kind === 'waiting' && <p>Waiting for the server.</p>}
      {shown.kind === 'head' && shown.head === null && <p>Nothing has been signed in this job yet.</p>}
      {shown.kind === 'head' && shown.head !== null && <Head head={shown.head} />}
      {trouble !== null && (
        <p className="problem" role="alert">
          {trouble}
        </p>
      )}
      <button type="button" className="button" onClick={() => void take()}>
        Take the record
      </button>
    </section>
  );
}
