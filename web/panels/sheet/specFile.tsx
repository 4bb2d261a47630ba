import { useState } from 'react';
import { replaceAll } from '../../../shared/spec/commands.ts';
import { exportSpec, type FileProblem, parseSpecText } from '../../../shared/spec/file.ts';
import { SPEC_ROOT } from '../../../shared/spec/reader.ts';
import { keepFile } from '../../ui/keepFile.ts';
import { useJob } from '../job/context.ts';

/** Takes the spec away as a file, or puts a file in its place: one edit, so one undo takes it back. */
export function SpecFile(): React.ReactNode {
  const { session, canEdit } = useJob();
  const [problems, setProblems] = useState<readonly FileProblem[]>([]);
  const [done, setDone] = useState<string | null>(null);
  const { doc } = session.specDocument;
  const save = (): void => {
    const text = `${JSON.stringify(exportSpec(doc.getMap<unknown>(SPEC_ROOT)), null, 2)}\n`;
    keepFile(text, 'spec.json', 'application/json');
  };
  const load = async (file: File): Promise<void> => {
    const read = parseSpecText(await file.text());
    setProblems(read.ok ? [] : read.problems);
    setDone(read.ok ? `${file.name} is in place. Undo takes it back.` : null);
    if (!read.ok) return;
    const map = doc.getMap<unknown>(SPEC_ROOT);
    const ticks = [...map.entries()].filter(([key]) => key.startsWith('ticks.'));
    session.undo.stopCapturing();
    replaceAll(doc, new Map([...read.entries, ...ticks]));
  };
  return (
    <div className="spec-file">
      <button type="button" className="button" onClick={save}>
        Save as file
      </button>
      {canEdit && (
        <label className="button">
          Load a file
          <input
            type="file"
            accept=".json,application/json"
            className="visually-hidden"
            onChange={(e) => {
              const file = e.target.files?.[0];
              e.target.value = '';
              if (file) void load(file);
            }}
          />
        </label>
      )}
      {done && <p role="status">{done}</p>}
      {problems.length > 0 && (
        <div className="problem" role="alert">
          <p>The file was not taken; nothing was changed.</p>
          <ul>
            {problems.slice(0, 20).map((p) => (
              <li key={`${p.path} ${p.message}`}>
                <code>{p.path || 'file'}</code>: {p.message}
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}
