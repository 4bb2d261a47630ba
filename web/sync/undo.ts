import * as Y from 'yjs';
import { userOrigin } from '../../shared/spec/commands.ts';

/** One person's own edits, taken back or done again; others' edits stay. */
export interface EditHistory {
  undo(): void;
  redo(): void;
  /** The next edit is a step of its own. */
  stopCapturing(): void;
  destroy(): void;
}

/** Edits closer together than this are one step, ms: a drag, a burst of typing. */
const ONE_STEP_MS = 500;

/** Follows this session's own edits of one root map. */
export function openHistory(doc: Y.Doc, root: string): EditHistory {
  const manager = new Y.UndoManager(doc.getMap(root), {
    trackedOrigins: new Set([userOrigin]),
    captureTimeout: ONE_STEP_MS,
  });
  return {
    undo: () => void manager.undo(),
    redo: () => void manager.redo(),
    stopCapturing: () => manager.stopCapturing(),
    destroy: () => manager.destroy(),
  };
}
