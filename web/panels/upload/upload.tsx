import { useRef, useState } from 'react';
import { Upload } from 'tus-js-client';
import { problemSchema } from '../../../shared/protocol/errors.ts';
import { type ScanUnit, scanUnits, type UploadResult, uploadResultSchema } from '../../../shared/protocol/http.ts';
import { addElement, freshId, setField } from '../../../shared/spec/commands.ts';
import { heatClassOptions } from '../../../shared/spec/rows/options.ts';
import { formatSi } from '../../../shared/units/format.ts';
import { useStore } from '../../state/store.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';

interface Progress {
  readonly sent: number;
  readonly total: number;
  readonly phase: 'sending' | 'reading';
}

const CHUNK = 4 * 1024 * 1024;

/** The server's words in a tus error, or the error itself. */
function uploadError(error: Error | { originalResponse: { getBody(): string } | null; message: string }): string {
  const body = 'originalResponse' in error ? error.originalResponse?.getBody() : undefined;
  try {
    const parsed = problemSchema.safeParse(JSON.parse(body ?? ''));
    if (parsed.success) {
      const { detail, expected, came } = parsed.data;
      return [detail, expected && `Expected ${expected}.`, came && `Got ${came}.`].filter(Boolean).join(' ');
    }
  } catch {
    // Not our JSON: fall through to the transport's own words.
  }
  return error.message;
}

/** Brings a scan file, resumable, and hangs it on a bay component. */
export function UploadDialog({ onClose }: { readonly onClose: () => void }): React.ReactNode {
  const { session, scans } = useJob();
  const spec = useStore(session.spec);
  const [file, setFile] = useState<File | null>(null);
  const [unit, setUnit] = useState<ScanUnit>('mm');
  const [component, setComponent] = useState('new');
  const [name, setName] = useState('');
  const [heatClass, setHeatClass] = useState<string>('structure');
  const [progress, setProgress] = useState<Progress | null>(null);
  const [error, setError] = useState<string | null>(null);
  const [result, setResult] = useState<UploadResult | null>(null);
  const upload = useRef<Upload | null>(null);

  const attach = ({ scan }: UploadResult): void => {
    const { doc } = session.specDocument;
    session.undo.stopCapturing();
    doc.transact(() => {
      const id = component === 'new' ? freshId(doc, 'components', Math.random) : component;
      if (component === 'new') {
        addElement(doc, 'components', {
          id,
          order: (spec.components.at(-1)?.order ?? 0) + 1,
          values: { name: name.trim() || scan.name, heatClass },
        });
      }
      setField(doc, `components.${id}.scan`, scan.sha256);
      setField(doc, `components.${id}.scanUnit`, scan.unit);
    });
    scans.refresh();
    setResult({ scan, known: false });
  };

  const start = (): void => {
    if (!file) return;
    setError(null);
    setResult(null);
    let outcome: UploadResult | null = null;
    const job = new Upload(file, {
      endpoint: '/api/uploads',
      chunkSize: CHUNK,
      retryDelays: [0, 500, 1500, 4000, 10_000],
      removeFingerprintOnSuccess: true,
      metadata: { project: session.project.id, filename: file.name, unit },
      onShouldRetry: (e) => {
        const status = e.originalResponse?.getStatus() ?? 0;
        return status === 0 || status >= 500 || status === 409 || status === 423;
      },
      onProgress: (sent, total) => setProgress({ sent, total, phase: sent < total ? 'sending' : 'reading' }),
      onAfterResponse: (_request, response) => {
        const parsed = uploadResultSchema.safeParse(safeJson(response.getBody()));
        if (parsed.success) outcome = parsed.data;
      },
      onError: (e) => {
        setProgress(null);
        setError(uploadError(e));
      },
      onSuccess: () => {
        setProgress(null);
        if (outcome) attach(outcome);
        else setError('The file arrived, but the server did not say what it read. Look at the list of components.');
      },
    });
    upload.current = job;
    setProgress({ sent: 0, total: file.size, phase: 'sending' });
    job.findPreviousUploads().then(
      (previous) => {
        if (previous[0]) job.resumeFromPreviousUpload(previous[0]);
        job.start();
      },
      () => job.start(),
    );
  };

  const stop = (): void => {
    void upload.current?.abort();
    setProgress(null);
  };

  return (
    <Dialog title="Bring a scan" onClose={onClose}>
      <label className="entry-row">
        <span>File: PLY, XYZ, ASC, PTS, LAS, LAZ, E57 or STL</span>
        <input
          type="file"
          accept=".ply,.xyz,.asc,.pts,.txt,.csv,.stl,.las,.laz,.e57"
          onChange={(e) => setFile(e.target.files?.[0] ?? null)}
        />
      </label>
      <label className="entry-row">
        <span>Unit of the numbers in it</span>
        <select value={unit} onChange={(e) => setUnit(scanUnits.find((u) => u === e.target.value) ?? 'mm')}>
          {scanUnits.map((u) => (
            <option key={u}>{u}</option>
          ))}
        </select>
      </label>
      <label className="entry-row">
        <span>Shows</span>
        <select value={component} onChange={(e) => setComponent(e.target.value)}>
          <option value="new">a new bay component</option>
          {spec.components.map((c) => (
            <option key={c.id} value={c.id}>
              {c.name ?? c.id}
            </option>
          ))}
        </select>
      </label>
      {component === 'new' && (
        <div className="pair">
          <label className="entry-row">
            <span>Its name</span>
            <input value={name} maxLength={60} onChange={(e) => setName(e.target.value)} />
          </label>
          <label className="entry-row">
            <span>Its heat class</span>
            <select value={heatClass} onChange={(e) => setHeatClass(e.target.value)}>
              {heatClassOptions.map((h) => (
                <option key={h}>{h}</option>
              ))}
            </select>
          </label>
        </div>
      )}
      <div className="acts">
        <button type="button" className="button button-main" disabled={!file || progress !== null} onClick={start}>
          Send
        </button>
        {progress && (
          <button type="button" className="button" onClick={stop}>
            Stop; it goes on from here next time
          </button>
        )}
      </div>
      {progress && (
        <label className="entry-row">
          <span>
            {progress.phase === 'sending'
              ? `Sending, ${Math.floor((100 * progress.sent) / Math.max(1, progress.total))} %`
              : 'The server reads it'}
          </span>
          <progress value={progress.sent} max={progress.total} />
        </label>
      )}
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
      {result && <Report result={result} />}
    </Dialog>
  );
}

function Report({ result }: { readonly result: UploadResult }): React.ReactNode {
  const { scan } = result;
  const size = scan.bounds.max.map((v, i) => formatSi('length', v - (scan.bounds.min[i] ?? 0)));
  return (
    <p role="status">
      {scan.points.toLocaleString()} points read from {scan.name} ({scan.format}), {size.join(' x ')}
      {scan.spacing === null ? '' : `, surface sampled at ${formatSi('length', scan.spacing)}`}. It is in the bay and
      being measured.
    </p>
  );
}

function safeJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
