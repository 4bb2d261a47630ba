import { useState } from 'react';
import { photoSchema } from '../../../shared/protocol/photos.ts';
import { sendFile } from '../../sync/api.ts';
import { useJob } from '../job/context.ts';

/** Photos one item can have (shared/spec checks the same). */
const MOST = 8;

interface PhotosProps {
  /** The item's words, for those who do not see the pictures. */
  readonly text: string;
  readonly photos: readonly string[];
  readonly canEdit: boolean;
  readonly onChange: (photos: readonly string[]) => void;
}

/** Photos of what was checked: they are covered by the signature like the tick itself. */
export function Photos({ text, photos, canEdit, onChange }: PhotosProps): React.ReactNode {
  const { session } = useJob();
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<string | null>(null);
  const base = `/api/projects/${session.project.id}/photos`;
  const add = async (file: File): Promise<void> => {
    setBusy(true);
    setError(null);
    try {
      const { sha256 } = await sendFile(base, file, photoSchema);
      if (!photos.includes(sha256)) onChange([...photos, sha256]);
    } catch (e) {
      setError(e instanceof Error ? e.message : String(e));
    } finally {
      setBusy(false);
    }
  };
  if (photos.length === 0 && !canEdit) return null;
  return (
    <div className="photos">
      {photos.map((sha256, i) => (
        <figure key={sha256} className="photo">
          <a href={`${base}/${sha256}`} target="_blank" rel="noreferrer">
            <img src={`${base}/${sha256}/thumb`} alt={`${i + 1} of: ${text}`} loading="lazy" />
          </a>
          {canEdit && (
            <button
              type="button"
              className="button"
              aria-label={`Remove photo ${i + 1} of: ${text}`}
              onClick={() => onChange(photos.filter((one) => one !== sha256))}
            >
              Remove
            </button>
          )}
        </figure>
      ))}
      {canEdit && photos.length < MOST && (
        <label className="button photo-add">
          {busy ? 'Sending' : 'Add photo'}
          <input
            className="visually-hidden"
            type="file"
            accept="image/*"
            capture="environment"
            disabled={busy}
            aria-label={`Add photo to: ${text}`}
            onChange={(e) => {
              const [file] = e.target.files ?? [];
              if (file) void add(file);
              e.target.value = '';
            }}
          />
        </label>
      )}
      {error && (
        <p className="problem" role="alert">
          {error}
        </p>
      )}
    </div>
  );
}
