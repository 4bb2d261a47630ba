import { defaultOptions, type PreviousUpload, Upload, type UploadOptions } from 'tus-js-client';
import { problemSchema } from '../../shared/protocol/errors.ts';
import type { ScanUnit } from '../../shared/protocol/http.ts';
import { problemText } from '../sync/problemText.ts';
import type { FileUse } from './fileKinds.ts';
import { createStore, type Store } from './store.ts';

/** Reads an answer, or says that it is another. */
export interface Shape<R> {
  safeParse(answer: unknown): { readonly success: true; readonly data: R } | { readonly success: false };
}

/** A file to send, and as what. */
export interface Sending<R> {
  readonly project: string;
  readonly file: File;
  readonly unit: ScanUnit;
  readonly use: FileUse;
  /** What the last answer looks like. */
  readonly schema: Shape<R>;
}

/** A file that has not ended; bytes. */
export interface UnderWay {
  readonly phase: 'sending' | 'waiting' | 'reading';
  readonly name: string;
  readonly sent: number;
  readonly total: number;
}

/** Whether a file is still being sent or read. */
export const underWay = (stand: SendingStand | null): stand is UnderWay => stand !== null && 'sent' in stand;

/** What the others are told of it, in steps of five parts in a hundred: each step is a message to everybody. */
export function toldToOthers(stand: SendingStand | null): string | null {
  if (!underWay(stand)) return null;
  const { phase, name, sent, total } = stand;
  const short = name.slice(0, 100);
  return phase === 'reading'
    ? `${short}, which is being read`
    : `${short}, ${5 * Math.floor((20 * sent) / Math.max(1, total))} %`;
}

/** Where the file that is sent stands. `waiting`: the link is down, it goes on by itself. */
export type SendingStand =
  | UnderWay
  | { readonly phase: 'failed' | 'kept'; readonly name: string; readonly words: string };

/** Sends one file at a time, for as long as the job is open: no dialog has to stay open for it. */
export interface SendingDesk {
  readonly stand: Store<SendingStand | null>;
  /** `onKept` puts what was read where it belongs and gives the words for it. */
  start<R>(sending: Sending<R>, onKept: (result: R) => string): void;
  /** What was sent stays on the server for a week; the same file goes on from there. */
  stop(): void;
  /** Names of files of a project that this browser has not sent to their end: chosen again, they go on from where they were. */
  unfinished(project: string): Promise<readonly string[]>;
  /** Puts away the words of one that has ended. */
  putAway(): void;
  close(): void;
}

type Job = Pick<Upload, 'start' | 'abort' | 'url' | 'findPreviousUploads' | 'resumeFromPreviousUpload'>;

/** What the desk works with; the browser's own unless a test says otherwise. */
export interface SendingPort {
  readonly upload: (file: File, options: UploadOptions) => Job;
  readonly fetch: (path: string) => Promise<{ json(): Promise<unknown> }>;
  /** Every upload this browser began and did not end. */
  readonly begun: () => Promise<readonly Pick<PreviousUpload, 'metadata' | 'creationTime'>[]>;
  readonly now: () => number;
  /** Calls back after so many ms, or as soon as the browser knows of a link; call what it gives to stop that. */
  readonly later: (ms: number, act: () => void) => () => void;
}

const CHUNK = 4 * 1024 * 1024;
/** How long the server keeps what was sent of a file, ms. */
const KEPT_MS = 7 * 24 * 3_600_000;
/** Waits before the link is tried again, ms; the last for as long as it takes (own). */
const TRIES = [300, 1500, 4000, 8000];

const browserPort: SendingPort = {
  upload: (file, options) => new Upload(file, options),
  fetch: (path) => fetch(path),
  begun: () => defaultOptions.urlStorage.findAllUploads(),
  now: () => Date.now(),
  later(ms, act) {
    const once = (): void => {
      stop();
      act();
    };
    const timer = setTimeout(once, ms);
    addEventListener('online', once);
    const stop = (): void => {
      clearTimeout(timer);
      removeEventListener('online', once);
    };
    return stop;
  },
};

export function openSendingDesk(port: SendingPort = browserPort): SendingDesk {
  const stand = createStore<SendingStand | null>(null);
  let running: { end(): void } | null = null;
  const stop = (): void => {
    running?.end();
    running = null;
    stand.set(null);
  };
  return {
    stand,
    start<R>(sending: Sending<R>, onKept: (result: R) => string) {
      stop();
      const run = new Run(sending, onKept, { port, stand });
      running = run;
      run.begin();
    },
    stop,
    async unfinished(project) {
      const begun = await port.begun();
      const mine = begun.filter(
        ({ metadata, creationTime }) => metadata.project === project && port.now() - Date.parse(creationTime) < KEPT_MS,
      );
      return [...new Set(mine.flatMap(({ metadata }) => metadata.filename ?? []))];
    },
    putAway() {
      const { phase } = stand.get() ?? {};
      if (phase === 'failed' || phase === 'kept') stand.set(null);
    },
    close: stop,
  };
}

interface Around {
  readonly port: SendingPort;
  readonly stand: Store<SendingStand | null>;
}

class Run<R> {
  private readonly sending: Sending<R>;
  private readonly onKept: (result: R) => string;
  private readonly around: Around;
  private readonly job: Job;
  private last: unknown = null;
  private tries = 0;
  private ended = false;
  private stopWaiting: () => void = () => undefined;

  constructor(sending: Sending<R>, onKept: (result: R) => string, around: Around) {
    this.sending = sending;
    this.onKept = onKept;
    this.around = around;
    this.job = around.port.upload(sending.file, this.options(sending));
  }

  begin(): void {
    this.show('sending', 0);
    void this.job
      .findPreviousUploads()
      .then(
        ([previous]) => previous && this.job.resumeFromPreviousUpload(previous),
        () => undefined,
      )
      .then(() => this.ended || this.job.start());
  }

  end(): void {
    this.ended = true;
    this.stopWaiting();
    void this.job.abort().catch(() => undefined);
  }

  private options({ project, file, unit, use }: Sending<R>): UploadOptions {
    return {
      endpoint: '/api/uploads',
      chunkSize: CHUNK,
      // The desk tries again by itself: the library gives up after some seconds, a link in a shop comes back after minutes.
      retryDelays: null,
      removeFingerprintOnSuccess: true,
      // What is sent as a scan must not go on as a part, nor in another unit or job.
      fingerprint: async () => [file.name, file.size, file.lastModified, project, unit, use].join('|'),
      metadata: { project, filename: file.name, unit, use },
      onProgress: (sent, total) => this.show(sent < total ? 'sending' : 'reading', sent),
      onChunkComplete: () => {
        this.tries = 0;
      },
      onAfterResponse: (_request, response) => {
        this.last = parsed(response.getBody());
      },
      onError: (error) => this.failed(error),
      onSuccess: () => void this.arrived(),
    };
  }

  private show(phase: 'sending' | 'waiting' | 'reading', sent?: number): void {
    if (this.ended) return;
    const { stand } = this.around;
    const before = stand.get();
    const { name, size: total } = this.sending.file;
    stand.set({ phase, name, total, sent: sent ?? (before && 'sent' in before ? before.sent : 0) });
  }

  private failed(error: UploadFault): void {
    if (this.ended) return;
    const status = statusOf(error);
    if (!passing(status)) return this.conclude('failed', faultWords(error));
    this.show('waiting');
    const wait = TRIES[Math.min(this.tries++, TRIES.length - 1)] ?? 0;
    this.stopWaiting = this.around.port.later(wait, () => this.job.start());
  }

  /** The answer to the last bytes may have been lost on the way: then it is asked for. */
  private async arrived(): Promise<void> {
    const first = this.sending.schema.safeParse(this.last);
    const result = first.success ? first : this.sending.schema.safeParse(await this.askedFor());
    if (this.ended) return;
    if (result.success) this.conclude('kept', this.onKept(result.data));
    else
      this.conclude(
        'failed',
        problemWords(this.last) ?? 'It arrived, but the server did not say what it read. Look at the list.',
      );
  }

  private async askedFor(): Promise<unknown> {
    try {
      const answer: unknown = await (await this.around.port.fetch(`${this.job.url}/result`)).json();
      this.last = answer;
      return answer;
    } catch {
      return null;
    }
  }

  private conclude(phase: 'failed' | 'kept', words: string): void {
    this.ended = true;
    this.around.stand.set({ phase, name: this.sending.file.name, words });
  }
}

/** As the upload library has it: with the server's answer when there was one. */
export type UploadFault = Error & {
  readonly originalResponse?: { getStatus(): number; getBody(): string } | null;
};

const statusOf = (error: UploadFault): number => error.originalResponse?.getStatus() ?? 0;

/** No answer, the last request not yet let go of, or a server that is starting: gone by itself sooner or later. */
const passing = (status: number): boolean =>
  status === 0 || status === 409 || status === 423 || (status >= 502 && status <= 504);

/** Why a file was not taken, in words for the person who sent it. */
export function faultWords(error: UploadFault): string {
  const told = problemWords(parsed(error.originalResponse?.getBody() ?? ''));
  return (
    told ?? `The server could not take it now (answer ${statusOf(error)}). Send it again: it goes on from where it was.`
  );
}

function problemWords(answer: unknown): string | null {
  const problem = problemSchema.safeParse(answer);
  return problem.success ? problemText(problem.data) : null;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
