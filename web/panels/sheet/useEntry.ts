import { useSyncExternalStore } from 'react';
import { setField } from '../../../shared/spec/commands.ts';
import { fieldAt } from '../../../shared/spec/path.ts';
import { SPEC_ROOT } from '../../../shared/spec/reader.ts';
import { checkStored, type StoredValue } from '../../../shared/spec/validate.ts';
import type { ShownVerdict } from '../../state/verdicts.ts';
import { useJob } from '../job/context.ts';

/** What is stored at a path now, and how to write it. */
export function useEntry(path: string): {
  readonly stored: unknown;
  readonly commit: (value: StoredValue | null) => void;
} {
  const { session } = useJob();
  const { doc } = session.specDocument;
  const map = doc.getMap<unknown>(SPEC_ROOT);
  const stored = useSyncExternalStore(session.spec.subscribe, () => map.get(path));
  return {
    stored,
    commit: (value) => {
      session.undo.stopCapturing();
      setField(doc, path, value);
    },
  };
}

/** What the checks say about single cells: problems by spec path. */
export function cellRemarks(verdicts: ReadonlyMap<string, ShownVerdict>): ReadonlyMap<string, string> {
  const out = new Map<string, string>();
  for (const { verdict } of verdicts.values()) {
    if (verdict.status !== 'unknown' || verdict.why.reason !== 'inconsistent') continue;
    for (const path of verdict.why.paths) out.set(path, verdict.why.detail);
  }
  return out;
}

/** The remark to show at a path: what is stored there is out of bounds, or a check says it does not fit. */
export function useRemark(path: string, stored: unknown): string | undefined {
  const { session } = useJob();
  // The one remark, not all of them: a verdict that moves elsewhere must not draw every field again.
  const remarks = remarkStore(session.verdicts);
  const remark = useSyncExternalStore(remarks.subscribe, () => remarks.get().get(path));
  const field = fieldAt(path);
  if (field && stored !== undefined) {
    const checked = checkStored(field, stored);
    if (!checked.ok) return checked.error;
  }
  return remark;
}

type Verdicts = ReturnType<typeof useJob>['session']['verdicts'];
const derived = new WeakMap<Verdicts, { get: () => ReadonlyMap<string, string>; subscribe: Verdicts['subscribe'] }>();

function remarkStore(verdicts: Verdicts): { get: () => ReadonlyMap<string, string>; subscribe: Verdicts['subscribe'] } {
  const there = derived.get(verdicts);
  if (there) return there;
  let from = verdicts.get();
  let made = cellRemarks(from);
  const store = {
    subscribe: verdicts.subscribe,
    get: () => {
      if (verdicts.get() !== from) {
        from = verdicts.get();
        made = cellRemarks(from);
      }
      return made;
    },
  };
  derived.set(verdicts, store);
  return store;
}
