import { addElement, freshId, removeElement } from '../../../shared/spec/commands.ts';
import { collections } from '../../../shared/spec/fields.ts';
import type { CollectionKey } from '../../../shared/spec/spec.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { DatumFit, DatumResidual, ScanPick } from './datumPoint.tsx';
import { freeName } from './freeName.ts';
import { PieceFile } from './pieceFile.tsx';
import { ComponentScan, PieceScan } from './pieceScan.tsx';
import { SpecField } from './specField.tsx';

interface ElementsProps {
  readonly branch: Exclude<CollectionKey, 'runners' | 'materials' | 'limits'>;
  readonly noun: string;
}

const HIDDEN: Readonly<Record<string, readonly string[]>> = {
  components: ['scan', 'scanUnit'],
  pieces: ['mesh', 'meshUnit'],
  printedPieces: ['piece', 'scan', 'scanUnit'],
};

/** Rows of a collection, each with its fields. */
export function Elements({ branch, noun }: ElementsProps): React.ReactNode {
  const { session, canEdit, scans } = useJob();
  const rows = usePart(session.spec, (spec) => spec[branch]);
  const duplicates = usePart(session.spec, (spec) => spec.duplicates);
  const shelf = useStore(scans.list);
  const keys = Object.keys(collections[branch]).filter((key) => !HIDDEN[branch]?.includes(key));
  const add = (): void => {
    const { doc } = session.specDocument;
    session.undo.stopCapturing();
    const id = freshId(doc, branch, Math.random);
    addElement(doc, branch, { id, order: (rows.at(-1)?.order ?? 0) + 1, values: { name: freeName(noun, rows) } });
  };
  return (
    <>
      {branch === 'datums' && <DatumFit />}
      {rows.map((row) => (
        <details key={row.id} className="element">
          <summary>
            {row.name ?? row.id}
            {branch === 'datums' && <DatumResidual id={row.id} />}
            {'heatClass' in row && (
              <span className="quiet">
                {' '}
                {shelf.some((s) => s.sha256 === row.scan) ? (row.heatClass ?? 'no heat class') : 'no scan yet'}
              </span>
            )}
          </summary>
          <div className="fields">
            {keys.map((key) => (
              <SpecField key={key} path={`${branch}.${row.id}.${key}`} />
            ))}
            {branch === 'pieces' && <PieceFile id={row.id} />}
            {branch === 'datums' && <ScanPick id={row.id} kind="datum" />}
            {branch === 'portPoints' && <ScanPick id={row.id} kind="port" />}
            {branch === 'studPoints' && <ScanPick id={row.id} kind="stud" />}
            {branch === 'components' && <ComponentScan id={row.id} />}
            {branch === 'printedPieces' && <PieceScan id={row.id} />}
          </div>
          {canEdit && (
            <button
              type="button"
              className="button"
              onClick={() => removeElement(session.specDocument.doc, `${branch}.${row.id}`)}
            >
              Remove {row.name ?? noun.toLowerCase()}
            </button>
          )}
        </details>
      ))}
      {duplicates
        .filter((d) => d.startsWith(`${branch}:`))
        .map((d) => (
          <p key={d} className="problem" role="alert">
            Expected each name once, "{d.slice(branch.length + 2)}" is there twice.
          </p>
        ))}
      {canEdit && (
        <button type="button" className="button" onClick={add}>
          Add {/^[aeiou]/i.test(noun) ? 'an' : 'a'} {noun.toLowerCase()}
        </button>
      )}
    </>
  );
}
