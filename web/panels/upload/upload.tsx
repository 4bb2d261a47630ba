import { useEffect, useState } from 'react';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { type PartView, partResultSchema, type ScanUnit } from '../../../shared/protocol/http.ts';
import { acceptedFiles, type FileUse, fileKind } from '../../state/fileKinds.ts';
import { underWay } from '../../state/sending.ts';
import { useStore } from '../../state/store.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { PartCard } from '../parts/partCard.tsx';
import { ScanForm } from './scanForm.tsx';
import { UnitChoice } from './unitChoice.tsx';
import { UploadActs, UploadProgress } from './uploadActs.tsx';

interface UploadDialogProps {
  /** A file that was dropped on the bay. */
  readonly dropped: File | null;
  readonly onClose: () => void;
  readonly onShow: (part: PartView, at: Vec3) => void;
}

const useWords: Readonly<Record<FileUse, string>> = {
  scan: 'a scan of the bay',
  part: 'a part that is made or bought',
};

/** Brings a file, resumable: a scan for a bay component, or a part. */
export function UploadDialog({ dropped, onClose, onShow }: UploadDialogProps): React.ReactNode {
  const { sending } = useJob();
  const stand = useStore(sending.stand);
  const busy = underWay(stand);
  const [file, setFile] = useState(dropped);
  const [chosen, setChosen] = useState<FileUse | null>(null);
  const [unit, setUnit] = useState<ScanUnit>('mm');
  const kind = file && fileKind(file.name);
  const use = kind && (kind.uses.length === 1 ? (kind.uses[0] ?? null) : chosen);
  // However it is closed: what was told here need not be told again in the bay.
  useEffect(() => sending.putAway, [sending]);
  const choose = (one: File | null): void => {
    sending.putAway();
    setFile(one);
    setChosen(null);
  };
  return (
    <Dialog title="Bring a scan or part" onClose={onClose} wide={use === 'part'}>
      {(busy || !file) && <UploadProgress />}
      {/* What was filled in stays as it is while the file is under way. */}
      <div className="upload-form" hidden={busy}>
        {dropped ? (
          <p>
            File: <strong>{dropped.name}</strong>
          </p>
        ) : (
          <>
            <FileChoice onChoose={choose} />
            {!file && <Unfinished />}
          </>
        )}
        {kind && kind.uses.length > 1 && <UseChoice uses={kind.uses} chosen={chosen} onChoose={setChosen} />}
        {file && use && kind && (
          <>
            {kind.statesUnit ? (
              <p className="quiet">The file states its unit.</p>
            ) : (
              <UnitChoice file={file} unit={unit} onChoose={setUnit} />
            )}
            {use === 'scan' ? (
              <ScanForm file={file} unit={unit} />
            ) : (
              <PartForm file={file} unit={unit} onShow={onShow} />
            )}
          </>
        )}
      </div>
    </Dialog>
  );
}

function FileChoice({ onChoose }: { readonly onChoose: (file: File | null) => void }): React.ReactNode {
  return (
    <label className="entry-row">
      <span>File: a scan (PLY, XYZ, ASC, PTS, LAS, LAZ, E57, STL) or a part (STEP, STL, OBJ, 3MF, GLB, PLY)</span>
      <input type="file" accept={acceptedFiles} onChange={(e) => onChoose(e.target.files?.[0] ?? null)} />
    </label>
  );
}

/** Files that did not get to their end, after the page was closed or left. */
function Unfinished(): React.ReactNode {
  const { session, sending } = useJob();
  const [names, setNames] = useState<readonly string[]>([]);
  useEffect(() => {
    sending.unfinished(session.project.id).then(setNames, () => undefined);
  }, [sending, session]);
  if (names.length === 0) return null;
  return (
    <p className="quiet" data-unfinished>
      Not sent to the end: {names.join(', ')}. Choose the same file again, and it goes on from where it was.
    </p>
  );
}

interface UseChoiceProps {
  readonly uses: readonly FileUse[];
  readonly chosen: FileUse | null;
  readonly onChoose: (use: FileUse) => void;
}

function UseChoice({ uses, chosen, onChoose }: UseChoiceProps): React.ReactNode {
  return (
    <fieldset className="choice">
      <legend>A file of this kind can be either. It is</legend>
      {uses.map((one) => (
        <label key={one}>
          <input type="radio" name="use" checked={chosen === one} onChange={() => onChoose(one)} />
          {useWords[one]}
        </label>
      ))}
    </fieldset>
  );
}

interface PartFormProps {
  readonly file: File;
  readonly unit: ScanUnit;
  readonly onShow: (part: PartView, at: Vec3) => void;
}

/** Sends a part and shows what was read. */
function PartForm({ file, unit, onShow }: PartFormProps): React.ReactNode {
  const { session, parts, sending } = useJob();
  const stand = useStore(sending.stand);
  const [last, setLast] = useState<{ readonly file: File; readonly unit: ScanUnit; readonly part: PartView } | null>(
    null,
  );
  const start = (): void => {
    setLast(null);
    const { project } = session;
    sending.start({ project: project.id, file, unit, use: 'part', schema: partResultSchema }, (result) => {
      parts.refresh();
      setLast({ file, unit, part: result.part });
      return `${result.part.name} is among the parts.`;
    });
  };
  const part = last?.file === file && last.unit === unit ? last.part : null;
  return (
    <>
      {part === null && <UploadActs file={file} onStart={start} />}
      {stand?.phase === 'failed' && <UploadProgress />}
      {part && (
        <div role="status">
          <PartCard key={part.id} part={part} open alone onShow={onShow} />
        </div>
      )}
    </>
  );
}
