import type { ChangeView } from '../../shared/protocol/revisions.ts';
import { joinRuns } from '../../shared/spec/changeRuns.ts';

/** What one person changed in one go. */
export interface ChangeGroup {
  readonly key: string;
  readonly by: string;
  readonly at: string | null;
  readonly changes: readonly ChangeView[];
}

/** Changes as people think of them: drags joined, what came in one edit together. Newest first, as given. */
export function changeGroups(changes: readonly ChangeView[]): readonly ChangeGroup[] {
  const told = changes.map((view) => ({
    ...{ view, path: view.path, by: view.by.account, at: view.at, before: view.from, after: view.to },
  }));
  const groups: { key: string; seq: number; by: string; at: string | null; changes: ChangeView[] }[] = [];
  for (const { view, before, after } of joinRuns(told)) {
    const joined = { ...view, from: before, to: after };
    const last = groups.at(-1);
    if (last?.seq === view.seq) last.changes.push(joined);
    else groups.push({ key: String(view.seq), seq: view.seq, by: view.by.name, at: view.at, changes: [joined] });
  }
  return groups;
}
