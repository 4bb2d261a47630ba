import { useState } from 'react';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { type PartView, partResultSchema, type ScanUnit, scanUnits } from '../../../shared/protocol/http.ts';
import { acceptedFiles, type FileUse, fileKind } from '../../state/fileKinds.ts';
import { Dialog } from '../../ui/dialog.tsx';
import { useJob } from '../job/context.ts';
import { PartCard } from '../parts/partCard.tsx';
import { ScanForm } from './scanForm.tsx';
import { UploadActs, UploadProgress } from './uploadActs.tsx';
import { useUpload } from './useUpload.ts';

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
  const [file, setFile] = useState(dropped);
  const [chosen, setChosen] = useState<FileUse | null>(null);
  const [unit, setUnit] = useState<ScanUnit>('mm');
  const kind = file && fileKind(file.name);
  const use = kind && (kind.uses.length === 1 ? (kind.uses[0] ?? null) : chosen);
  return (
    <Dialog title="Bring a scan or part" onClose={onClose} wide={use === 'part'}>
      {dropped ? (
        <p>
          File: <strong>{dropped.name}</strong>
        </p>
      ) : (
        <FileChoice
          onChoose={(one) => {
            setFile(one);
            setChosen(null);
          }}
        />
      )}
      {kind && kind.uses.length > 1 && <UseChoice uses={kind.uses} chosen={chosen} onChoose={setChosen} />}
      {file && use && kind && (
        <>
          {use === 'part' && kind.statesUnit ? (
            <p className="quiet">The file states its unit.</p>
          ) : (
            <UnitChoice unit={unit} onChoose={setUnit} />
          )}
          {use === 'scan' ? <ScanForm file={file} unit={unit} /> : <PartForm file={file} unit={unit} onShow={onShow} />}
        </>
      )}
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

interface UnitChoiceProps {
  readonly unit: ScanUnit;
  readonly onChoose: (unit: ScanUnit) => void;
}

function UnitChoice({ unit, onChoose }: UnitChoiceProps): React.ReactNode {
  return (
    <label className="entry-row">
      <span>Unit of the numbers in it</span>
      <select value={unit} onChange={(e) => onChoose(scanUnits.find((u) => u === e.target.value) ?? 'mm')}>
        {scanUnits.map((u) => (
          <option key={u}>{u}</option>
        ))}
      </select>
    </label>
  );
}

interface PartFormProps {
  readonly file: File;
  readonly unit: ScanUnit;
  readonly onShow: (part: PartView, at: Vec3) => void;
}

/** Sends a part and shows what was read. */
function PartForm({ file, unit, onShow }: PartFormProps): React.ReactNode {
  const { session, parts } = useJob();
  const upload = useUpload();
  const [part, setPart] = useState<PartView | null>(null);
  const start = (): void => {
    setPart(null);
    const sending = { project: session.project.id, file, unit, use: 'part', schema: partResultSchema } as const;
    upload.start(sending, (result) => {
      parts.refresh();
      setPart(result.part);
    });
  };
  return (
    <>
      <UploadActs upload={upload} onStart={start} />
      <UploadProgress upload={upload} />
      {part && (
        <div role="status">
          <PartCard key={part.id} part={part} open onShow={onShow} />
        </div>
      )}
    </>
  );
}
