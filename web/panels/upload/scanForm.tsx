import { useState } from 'react';
import { type ScanUnit, type ScanView, type UploadResult, uploadResultSchema } from '../../../shared/protocol/http.ts';
import { addElement, freshId, setField, userOrigin } from '../../../shared/spec/commands.ts';
import { heatClassOptions } from '../../../shared/spec/rows/options.ts';
import { setScanOf } from '../../../shared/spec/scanOf.ts';
import { keptWords } from '../../state/keptWords.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { UploadActs, UploadProgress } from './uploadActs.tsx';

interface ScanFormProps {
  readonly file: File;
  readonly unit: ScanUnit;
}

/** How the entries for printed pieces begin among those for bay components. */
const PIECE = 'printed:';

/** Sends a scan and hangs it on a bay component, or on the printed piece it is of. */
export function ScanForm({ file, unit }: ScanFormProps): React.ReactNode {
  const { session, scans, sending } = useJob();
  const stand = useStore(sending.stand);
  const spec = useStore(session.spec);
  const [component, setComponent] = useState('new');
  const [name, setName] = useState('');
  const [heatClass, setHeatClass] = useState<string>('structure');
  const [last, setLast] = useState<{ readonly file: File; readonly unit: ScanUnit; readonly words: string } | null>(
    null,
  );

  const ofPiece = component.startsWith(PIECE);
  const attach = (kept: UploadResult): string => {
    const { scan } = kept;
    const { doc } = session.specDocument;
    session.undo.stopCapturing();
    if (ofPiece) setScanOf(doc, `printedPieces.${component.slice(PIECE.length)}`, scan);
    else hangOnComponent(scan);
    scans.refresh();
    const words = keptWords(kept, ofPiece);
    setLast({ file, unit, words });
    return words;
  };
  const hangOnComponent = (scan: ScanView): void => {
    const { doc } = session.specDocument;
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
    }, userOrigin);
  };
  const start = (): void => {
    setLast(null);
    const { project } = session;
    sending.start({ project: project.id, file, unit, use: 'scan', schema: uploadResultSchema }, attach);
  };

  const told = last?.file === file && last.unit === unit ? last : null;
  return (
    <>
      <label className="entry-row">
        <span>Shows</span>
        <select value={component} onChange={(e) => setComponent(e.target.value)}>
          <option value="new">a new bay component</option>
          {spec.components.map((c) => (
            <option key={c.id} value={c.id}>
              {c.name ?? c.id}
            </option>
          ))}
          {spec.printedPieces.length > 0 && (
            <optgroup label="A printed piece, to be compared with its model">
              {spec.printedPieces.map((row) => (
                <option key={row.id} value={`${PIECE}${row.id}`}>
                  {row.name ?? row.id}
                </option>
              ))}
            </optgroup>
          )}
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
      {/* Another file, or the same in another unit, can be sent next. */}
      {!told && <UploadActs file={file} onStart={start} />}
      {stand?.phase === 'failed' && <UploadProgress />}
      {told && <p role="status">{told.words}</p>}
    </>
  );
}
