import { useEffect, useMemo, useRef, useState } from 'react';
import { type AccountView, type ProjectDetail, projectDetailSchema } from '../../../shared/protocol/http.ts';
import { may } from '../../../shared/protocol/roles.ts';
import { openNoticeShelf } from '../../state/notices.ts';
import { openPartShelf } from '../../state/parts.ts';
import { openProject, type ProjectSession } from '../../state/project.ts';
import { openRevisionShelf } from '../../state/revisions.ts';
import { openScanShelf } from '../../state/scans.ts';
import { openSendingDesk, toldToOthers } from '../../state/sending.ts';
import { createStore, usePart, useStore } from '../../state/store.ts';
import { call } from '../../sync/api.ts';
import { BayPanel } from '../bay/bayPanel.tsx';
import { Checks } from '../checks/checks.tsx';
import { signOut } from '../entry/entry.tsx';
import { TheLine } from '../line/line.tsx';
import type { TakePicture } from '../papers/pictures.ts';
import { JobPlate } from '../plate/plate.tsx';
import { PunchList } from '../punch/punch.tsx';
import { Sheet } from '../sheet/sheet.tsx';
import { type Aim, type JobContext, JobProvider } from './context.ts';
import { NotTakenTray } from './notTaken.tsx';

const areas = ['sheet', 'bay', 'checks', 'punch'] as const;
type Area = (typeof areas)[number];
const areaNames: Readonly<Record<Area, string>> = { sheet: 'Sheet', bay: 'Bay', checks: 'Checks', punch: 'Punch list' };

interface JobScreenProps {
  readonly id: string;
  readonly account: AccountView;
  readonly onLeave: () => void;
}

/** One job: plate on top, sheet, bay, checks and punch list, the line below. On a phone one area at a time. */
export function JobScreen({ id, account, onLeave }: JobScreenProps): React.ReactNode {
  const [project, setProject] = useState<ProjectDetail | null>(null);
  const [error, setError] = useState<string | null>(null);
  useEffect(() => {
    call('GET', `/api/projects/${id}`, { schema: projectDetailSchema }).then(setProject, (e: Error) =>
      setError(e.message),
    );
  }, [id]);
  if (error)
    return (
      <main className="entry">
        <p className="problem" role="alert">
          {error}
        </p>
        <button type="button" className="button" onClick={onLeave}>
          All jobs
        </button>
      </main>
    );
  if (!project)
    return (
      <main className="entry">
        <p>Opening the job.</p>
      </main>
    );
  return <OpenJob project={project} account={account} onLeave={onLeave} />;
}

function OpenJob({
  project,
  account,
  onLeave,
}: {
  readonly project: ProjectDetail;
  readonly account: AccountView;
  readonly onLeave: () => void;
}): React.ReactNode {
  const [session, setSession] = useState<ProjectSession | null>(null);
  const [round, setRound] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new round opens the same project afresh after edits were not taken.
  useEffect(() => {
    const opened = openProject(project, account.id);
    let left = false;
    opened.loaded.then(
      () => !left && setSession(opened),
      () => undefined,
    );
    return () => {
      left = true;
      setSession(null);
      opened.close();
    };
  }, [project, account.id, round]);
  if (!session)
    return (
      <main className="entry">
        <p>Loading {project.name}.</p>
      </main>
    );
  return <LoadedJob session={session} onLeave={onLeave} onReopen={() => setRound(round + 1)} />;
}

/** Opens the sheet where a field is and puts the cursor into it; a row that is not there yet leaves the sheet as it is. */
function showField(path: string): void {
  requestAnimationFrame(() => {
    const input = document.querySelector<HTMLElement>(`.sheet [data-path="${CSS.escape(path)}"]`);
    for (let box = input?.closest('details'); box; box = box.parentElement?.closest('details')) box.open = true;
    input?.scrollIntoView({ block: 'center' });
    input?.focus();
  });
}

/** Scrolls to a markup once its area is there. */
function showThread(id: string): void {
  requestAnimationFrame(() =>
    document.querySelector(`[data-thread="${CSS.escape(id)}"]`)?.scrollIntoView({ block: 'nearest' }),
  );
}

function LoadedJob({
  session,
  onLeave,
  onReopen,
}: {
  readonly session: ProjectSession;
  readonly onLeave: () => void;
  readonly onReopen: () => void;
}): React.ReactNode {
  const { roles } = session.project;
  const scans = useMemo(() => openScanShelf(session.project.id, session.feed), [session]);
  useEffect(() => () => scans.close(), [scans]);
  const parts = useMemo(() => openPartShelf(session.project.id, session.feed), [session]);
  const revisions = useMemo(() => openRevisionShelf(session.project.id, session.feed), [session]);
  const notices = useMemo(() => openNoticeShelf(session.project.id, session.feed), [session]);
  useEffect(() => () => notices.close(), [notices]);
  const sending = useMemo(() => openSendingDesk(), []);
  useEffect(() => () => sending.close(), [sending]);
  const brings = usePart(sending.stand, toldToOthers);
  useEffect(() => session.specDocument.showBringing(brings), [session, brings]);
  const touched = useMemo(() => createStore<string | null>(null), []);
  const aim = useMemo(() => createStore<Aim | null>(null), []);
  const camera = useMemo(() => createStore<TakePicture | null>(null), []);
  const job: JobContext = {
    aim,
    camera,
    session,
    scans,
    parts,
    revisions,
    notices,
    sending,
    touched,
    canEdit: may(roles, 'editSpec'),
    canUpload: may(roles, 'upload'),
    canInvite: may(roles, 'invite'),
    canManage: may(roles, 'manage'),
  };
  const [area, setArea] = useState<Area>(() => (matchMedia('(max-width: 60rem)').matches ? 'bay' : 'checks'));
  const [pinning, setPinning] = useState(false);
  const aimed = useStore(aim);
  // On a phone the scan is in another area than the row that is picked for: there and back.
  const wasAimed = useRef(false);
  useEffect(() => {
    if (aimed !== null) setPinning(false);
    if ((aimed !== null) !== wasAimed.current) setArea(aimed === null ? 'sheet' : 'bay');
    wasAimed.current = aimed !== null;
  }, [aimed]);
  const focus = useStore(session.focus);
  // Where a thing of the punch list is done may be in another area, above all on a phone.
  useEffect(() => {
    if (focus?.kind === 'verdict') setArea((now) => (now === 'punch' ? 'checks' : now));
    if (focus?.kind === 'thread' && focus.jump) {
      setArea('punch');
      showThread(focus.id);
    }
    if (focus?.kind !== 'field') return;
    setArea('sheet');
    showField(focus.id);
  }, [focus]);
  const right = focus?.kind === 'thread' || pinning ? 'punch' : area === 'punch' ? 'punch' : 'checks';
  const leave = (): void => void signOut().then(() => location.assign('/'));
  return (
    <JobProvider value={job}>
      <div className="job" data-area={area} data-right={right}>
        <JobPlate onLeave={onLeave} onSignOut={leave} />
        <NotTakenTray onReopen={onReopen} />
        <nav className="areas" aria-label="Areas">
          {areas.map((a) => (
            <button
              key={a}
              type="button"
              className={`area-${a}`}
              aria-pressed={a === area}
              onClick={() => {
                setArea(a);
                if (a === 'checks' && focus?.kind === 'thread') session.focus.set(null);
                if (a === 'checks') setPinning(false);
              }}
            >
              {areaNames[a]}
            </button>
          ))}
        </nav>
        <Sheet />
        <BayPanel pinning={pinning} onPinned={() => setPinning(false)} />
        <aside className="right">
          <div className="right-tabs" role="tablist" aria-label="Checks and punch list">
            {(['checks', 'punch'] as const).map((a) => (
              <button
                key={a}
                type="button"
                role="tab"
                aria-selected={right === a}
                onClick={() => {
                  setArea(a);
                  setPinning(false);
                  if (a === 'checks' && focus?.kind === 'thread') session.focus.set(null);
                }}
              >
                {areaNames[a]}
              </button>
            ))}
          </div>
          {right === 'checks' ? (
            <Checks />
          ) : (
            <PunchList
              pinning={pinning}
              onPin={() => {
                setPinning(!pinning);
                setArea('punch');
              }}
            />
          )}
        </aside>
        <TheLine />
      </div>
    </JobProvider>
  );
}
