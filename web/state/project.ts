import { MARKUP_ROOT, readThreads, type Thread } from '../../shared/markup/markup.ts';
import { type ProjectDetail, projectDetailSchema } from '../../shared/protocol/http.ts';
import type { NotTaken } from '../../shared/protocol/sync.ts';
import { createSpecReader, SPEC_ROOT } from '../../shared/spec/reader.ts';
import type { Spec } from '../../shared/spec/spec.ts';
import { call } from '../sync/api.ts';
import { type LiveDocument, openDocument } from '../sync/document.ts';
import { type Feed, openFeed } from '../sync/feed.ts';
import { type EditHistory, openHistory } from '../sync/undo.ts';
import { createStore, type Store } from './store.ts';
import { LocalVerdicts, type ShownVerdict } from './verdicts.ts';

/** What the person is looking at or pointing out; shared by sheet, bay and lists. */
export interface Focus {
  /** gate: its id, or with an item `weld.root-seen`. field: a spec path, to be shown in the sheet. */
  readonly kind: 'verdict' | 'thread' | 'runner' | 'component' | 'gate' | 'field';
  readonly id: string;
  /** Asked for from elsewhere than where it is: on a phone its area is opened. */
  readonly jump?: true;
}

/** One open project in this browser: documents, feed, verdicts, undo. */
export interface ProjectSession {
  readonly project: ProjectDetail;
  readonly me: string;
  /** Everybody in the project; read again when somebody unknown turns up. */
  readonly members: Store<ProjectDetail['members']>;
  readonly spec: Store<Spec>;
  readonly threads: Store<readonly Thread[]>;
  readonly verdicts: Store<ReadonlyMap<string, ShownVerdict>>;
  readonly feed: Feed;
  readonly specDocument: LiveDocument;
  readonly markupDocument: LiveDocument;
  readonly undo: EditHistory;
  readonly focus: Store<Focus | null>;
  readonly notTaken: Store<NotTaken | null>;
  readonly loaded: Promise<void>;
  close(): void;
}

export function openProject(project: ProjectDetail, account: string): ProjectSession {
  const specDocument = openDocument({ account, project: project.id, name: 'spec' });
  const markupDocument = openDocument({ account, project: project.id, name: 'markup' });
  const feed = openFeed(project.id);
  const reader = createSpecReader(specDocument.doc);
  const spec = createStore(reader.current());
  const local = new LocalVerdicts();
  const verdicts = createStore<ReadonlyMap<string, ShownVerdict>>(new Map());
  const merge = (): void => {
    const { unconfirmed, seq } = specDocument.keep.get();
    if (unconfirmed === 0 && feed.state.get().seq >= seq) local.agree();
    verdicts.set(local.merge(feed.state.get().verdicts));
  };
  reader.onChange((next) => {
    spec.set(next);
    local.evaluate(next);
    merge();
  });
  local.evaluate(spec.get());
  feed.state.subscribe(merge);
  specDocument.keep.subscribe(merge);
  const markup = markupDocument.doc.getMap<unknown>(MARKUP_ROOT);
  const threads = createStore(readThreads(markup));
  markup.observe(() => threads.set(readThreads(markup)));
  const members = createStore<ProjectDetail['members']>(project.members);
  followMembers(project.id, members, { present: specDocument.present, threads });
  const undo = openHistory(specDocument.doc, SPEC_ROOT);
  return {
    project,
    me: account,
    members,
    spec,
    threads,
    verdicts,
    feed,
    specDocument,
    markupDocument,
    undo,
    focus: createStore<Focus | null>(null),
    notTaken: specDocument.refused,
    loaded: Promise.all([specDocument.loaded, markupDocument.loaded]).then(() => undefined),
    close() {
      undo.destroy();
      reader.destroy();
      feed.close();
      specDocument.close();
      markupDocument.close();
    },
  };
}

/** Reads the members again when a person or an author is not among them: somebody joined after this page was opened. */
function followMembers(
  project: string,
  members: Store<ProjectDetail['members']>,
  seen: { readonly present: LiveDocument['present']; readonly threads: Store<readonly Thread[]> },
): void {
  const asked = new Set<string>();
  const check = (): void => {
    const authors = seen.threads.get().flatMap((t) => [t.by, ...t.comments.map((c) => c.by)]);
    const accounts = [...seen.present.get().map((p) => p.account), ...authors];
    const strangers = accounts.filter((a) => !asked.has(a) && !members.get().some((m) => m.account.id === a));
    if (strangers.length === 0) return;
    for (const stranger of strangers) asked.add(stranger);
    call('GET', `/api/projects/${project}`, { schema: projectDetailSchema }).then(
      (detail) => members.set(detail.members),
      // Names are a comfort: without them the next stranger asks again.
      () => asked.clear(),
    );
  };
  seen.present.subscribe(check);
  seen.threads.subscribe(check);
}
