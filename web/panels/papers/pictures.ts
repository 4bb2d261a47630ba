import type { Vec3 } from '../../../shared/geometry/vector.ts';
import type { Thread } from '../../../shared/markup/markup.ts';
import { type PackRequest, pictureBytes, pictureLimit } from '../../../shared/protocol/papers.ts';

/** Takes a picture of the view at a place, as a data URL; null when the view is not there. */
export type TakePicture = (at: Vec3, mark: string) => string | null;

interface Taking {
  readonly threads: readonly Thread[];
  readonly placeOf: (thread: Thread) => Vec3;
  readonly take: TakePicture | null;
  /** Told before each, that the page can say how far it is; waits for it. */
  readonly progress: (done: number, of: number) => Promise<void>;
}

/** A picture for each markup, open ones first as far as there is room; one that cannot be taken is left out. */
export async function takePictures({ threads, placeOf, take, progress }: Taking): Promise<PackRequest['pictures']> {
  if (!take) return [];
  const open = (thread: Thread): number => (thread.state === 'open' ? 0 : 1);
  const chosen = [...threads].sort((a, b) => open(a) - open(b) || a.n - b.n).slice(0, pictureLimit);
  const out: PackRequest['pictures'] = [];
  for (const [i, thread] of chosen.entries()) {
    await progress(i, chosen.length);
    const image = take(placeOf(thread), String(thread.n))?.split(',')[1];
    // Four characters carry three bytes.
    if (image && (image.length * 3) / 4 <= pictureBytes) out.push({ thread: thread.id, image });
  }
  return out;
}
