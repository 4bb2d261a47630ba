import { useRef, useState } from 'react';
import { Upload } from 'tus-js-client';
import type { z } from 'zod';
import { problemSchema } from '../../../shared/protocol/errors.ts';
import type { ScanUnit } from '../../../shared/protocol/http.ts';
import type { FileUse } from '../../state/fileKinds.ts';

export interface Progress {
  readonly sent: number;
  readonly total: number;
  readonly phase: 'sending' | 'reading';
}

/** A file to send, and as what. */
export interface Sending<R> {
  readonly project: string;
  readonly file: File;
  readonly unit: ScanUnit;
  readonly use: FileUse;
  /** What the last answer looks like. */
  readonly schema: z.ZodType<R>;
}

/** An upload that goes on where it stood, also after the page was closed. */
export interface UploadState {
  readonly progress: Progress | null;
  readonly error: string | null;
  start<R>(sending: Sending<R>, onKept: (result: R) => void): void;
  stop(): void;
}

const CHUNK = 4 * 1024 * 1024;
const RETRIES = [0, 500, 1500, 4000, 10_000];

/** The server's words in an upload error, or the error itself. */
function uploadError(error: Error | { originalResponse: { getBody(): string } | null; message: string }): string {
  const body = 'originalResponse' in error ? error.originalResponse?.getBody() : undefined;
  const parsed = problemSchema.safeParse(safeJson(body ?? ''));
  // Not our JSON: the transport's own words.
  if (!parsed.success) return error.message;
  const { detail, expected, came } = parsed.data;
  return [detail, expected && `Expected ${expected}.`, came && `Got ${came}.`].filter(Boolean).join(' ');
}

function safeJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** One upload at a time. */
export function useUpload(): UploadState {
  const [progress, setProgress] = useState<Progress | null>(null);
  const [error, setError] = useState<string | null>(null);
  const upload = useRef<Upload | null>(null);
  const start: UploadState['start'] = ({ project, file, unit, use, schema }, onKept) => {
    setError(null);
    let last: unknown = null;
    const job = new Upload(file, {
      endpoint: '/api/uploads',
      chunkSize: CHUNK,
      retryDelays: RETRIES,
      removeFingerprintOnSuccess: true,
      // What is sent as a scan must not go on as a part, nor in another unit or job.
      fingerprint: async (one) => [one.name, one.size, one.lastModified, project, unit, use].join('|'),
      metadata: { project, filename: file.name, unit, use },
      onShouldRetry: (e) => {
        const status = e.originalResponse?.getStatus() ?? 0;
        return status === 0 || status >= 500 || status === 409 || status === 423;
      },
      onProgress: (sent, total) => setProgress({ sent, total, phase: sent < total ? 'sending' : 'reading' }),
      onAfterResponse: (_request, response) => {
        last = safeJson(response.getBody());
      },
      onError: (e) => {
        setProgress(null);
        setError(uploadError(e));
      },
      onSuccess: () => {
        setProgress(null);
        const result = schema.safeParse(last);
        if (result.success) onKept(result.data);
        else setError('The file arrived, but the server did not say what it read. Look at the list.');
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
  return { progress, error, start, stop };
}
