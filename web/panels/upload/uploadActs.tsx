import type { UploadState } from './useUpload.ts';

interface UploadProps {
  readonly upload: UploadState;
}

/** Send, and stop while it is sent. */
export function UploadActs({ upload, onStart }: UploadProps & { readonly onStart: () => void }): React.ReactNode {
  return (
    <div className="acts">
      <button type="button" className="button button-main" disabled={upload.progress !== null} onClick={onStart}>
        Send
      </button>
      {upload.progress && (
        <button type="button" className="button" onClick={upload.stop}>
          Stop; it goes on from here next time
        </button>
      )}
    </div>
  );
}

/** How far it is, or why it was not taken. */
export function UploadProgress({ upload: { progress, error } }: UploadProps): React.ReactNode {
  return (
    <>
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
    </>
  );
}
