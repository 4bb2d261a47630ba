import { useState } from 'react';
import { type PaperName, paperSizes, type TableName, tableNames } from '../../../shared/protocol/papers.ts';
import { useStore } from '../../state/store.ts';
import { fetchBytes, postForBytes } from '../../sync/api.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { keepFile } from '../../ui/keepFile.ts';
import { pinPlace } from '../bay/view.ts';
import { useJob } from '../job/context.ts';
import { PaperLinks } from './paperLinks.tsx';
import { takePictures } from './pictures.ts';

const papers: readonly { readonly name: PaperName; readonly title: string; readonly what: string }[] = [
  {
    name: 'traveller',
    title: 'Traveller',
    what: 'Goes round with the part: each gate with its boxes, signatures and code.',
  },
  { name: 'weld-sheets', title: 'Weld process sheets', what: 'One sheet a joint, with lines for what was really run.' },
  { name: 'purge-sheet', title: 'Purge sheet', what: 'Each purge volume: how long, dams, oxygen readings.' },
  { name: 'review-pack', title: 'Review pack', what: 'Everything for a reviewer, with a picture for each markup.' },
];
const tables: Readonly<Record<TableName, string>> = {
  verdicts: 'Verdicts',
  spec: 'Spec',
  gates: 'Gates',
  signatures: 'Signatures',
  concessions: 'Concessions',
  markups: 'Markups',
};
const sizeNames = { a4: 'A4', letter: 'Letter' } as const;

/** A frame of the page: long enough for a line of progress to be seen. */
const frame = (): Promise<void> => new Promise((resolve) => requestAnimationFrame(() => resolve()));

/** Takes one file after the other; says what is under way and what went wrong. */
function useTaking() {
  const { session, camera } = useJob();
  const [doing, setDoing] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const base = `/api/projects/${session.project.id}`;
  const busy = async (words: string, work: () => Promise<void>): Promise<void> => {
    setDoing(words);
    setProblem(null);
    await work().catch((error: unknown) => setProblem(error instanceof Error ? error.message : String(error)));
    setDoing(null);
  };
  const pack = async (path: string): Promise<ArrayBuffer> => {
    const pictures = await takePictures({
      threads: session.threads.get(),
      placeOf: (thread) => pinPlace(thread, session.spec.get()),
      take: camera.get(),
      progress: (done, of) => {
        setDoing(`Taking picture ${done + 1} of ${of}`);
        return frame();
      },
    });
    setDoing('Printing the review pack');
    return postForBytes(path, { pictures });
  };
  const paper = (name: PaperName, size: (typeof paperSizes)[number]): void => {
    const path = `${base}/papers/${name}.pdf?size=${size}`;
    const made = () => (name === 'review-pack' ? pack(path) : fetchBytes(path, true));
    void busy('Printing', async () => keepFile(await made(), `${name}.pdf`, 'application/pdf'));
  };
  const table = (file: string): void =>
    void busy('Writing the table', async () => keepFile(await fetchBytes(`${base}/tables/${file}`, true), file));
  return { doing, problem, paper, table };
}

/** Everything that can be taken away from a job: papers as PDF, tables as CSV and JSON. */
export function PapersDialog({ onClose }: { readonly onClose: () => void }): React.ReactNode {
  const { session } = useJob();
  const threads = useStore(session.threads);
  const { doing, problem, paper, table } = useTaking();
  return (
    <Dialog title="Papers" onClose={onClose} wide>
      <div className="papers" data-testid="papers">
        <p role="status" aria-live="polite">
          {doing === null ? 'Pick a paper and its size.' : `${doing}...`}
        </p>
        {problem !== null && (
          <p className="problem" role="alert">
            {problem}
          </p>
        )}
        <section aria-label="Papers as PDF">
          {papers.map(({ name, title, what }) => (
            <div key={name} className="paper-row">
              <span>
                <strong>{title}</strong>{' '}
                <span className="quiet">
                  {what}
                  {name === 'review-pack' && threads.length > 0 && ` ${threads.length} now.`}
                </span>
              </span>
              {paperSizes.map((size) => (
                <button
                  key={size}
                  type="button"
                  className="button"
                  disabled={doing !== null}
                  aria-label={`${title}, ${sizeNames[size]}`}
                  onClick={() => paper(name, size)}
                >
                  {sizeNames[size]}
                </button>
              ))}
            </div>
          ))}
        </section>
        <section aria-label="Tables">
          {tableNames.map((name) => (
            <div key={name} className="paper-row">
              <span>{tables[name]}</span>
              {(['csv', 'json'] as const).map((kind) => (
                <button
                  key={kind}
                  type="button"
                  className="button"
                  disabled={doing !== null}
                  aria-label={`${tables[name]} as ${kind.toUpperCase()}`}
                  onClick={() => table(`${name}.${kind}`)}
                >
                  {kind.toUpperCase()}
                </button>
              ))}
            </div>
          ))}
        </section>
        <PaperLinks />
      </div>
    </Dialog>
  );
}
