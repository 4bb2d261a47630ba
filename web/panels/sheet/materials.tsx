import { addElement, addMaterialRow, freshId, removeElement } from '../../../shared/spec/commands.ts';
import { collections, tables } from '../../../shared/spec/fields.ts';
import { fieldAt } from '../../../shared/spec/path.ts';
import type { OwnMaterial } from '../../../shared/spec/spec.ts';
import { trustWords } from '../../../shared/trade/source.ts';
import { displayUnit } from '../../../shared/units/quantities.ts';
import { usePart } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { freeName } from './freeName.ts';
import { SpecField } from './specField.tsx';

const tableWords = {
  points: { title: 'Properties by temperature', add: 'Add a temperature' },
  ruptures: { title: 'Ruptures', add: 'Add a rupture' },
} as const;

const trustChoices = Object.entries(trustWords).map(([value, label]) => ({ value, label }));

interface TableProps {
  readonly row: OwnMaterial;
  readonly table: 'points' | 'ruptures';
}

function heading(path: string): string {
  const field = fieldAt(path);
  const unit = field?.kind === 'quantity' ? displayUnit(field.quantity).symbol : '1';
  return `${field?.label ?? path}${unit === '1' ? '' : `, ${unit}`}`;
}

function MaterialTable({ row, table }: TableProps): React.ReactNode {
  const { session, canEdit } = useJob();
  const { doc } = session.specDocument;
  const prefix = `materials.${row.id}.${table}`;
  const keys = Object.keys(tables.materials[table]);
  const add = (): void => {
    session.undo.stopCapturing();
    const order = (row[table].at(-1)?.order ?? 0) + 1;
    const id = freshId(doc, prefix, Math.random);
    addMaterialRow(doc, { material: row.id, table }, { id, order, values: {} });
  };
  const remove = (id: string): void => {
    session.undo.stopCapturing();
    removeElement(doc, `${prefix}.${id}`);
  };
  return (
    <>
      <h4>{tableWords[table].title}</h4>
      {row[table].length > 0 && (
        <div className="wide-table">
          <table className="nodes">
            <thead>
              <tr>
                {keys.map((key) => (
                  <th key={key} scope="col">
                    {heading(`${prefix}.x.${key}`)}
                  </th>
                ))}
                {canEdit && <th scope="col" aria-label="Change rows" />}
              </tr>
            </thead>
            <tbody>
              {row[table].map(({ id }, i) => (
                <tr key={id}>
                  {keys.map((key) => (
                    <td key={key}>
                      <SpecField
                        path={`${prefix}.${id}.${key}`}
                        label={`${row.name ?? row.id} ${tableWords[table].title} ${i + 1} ${heading(`${prefix}.x.${key}`)}`}
                        hideLabel
                      />
                    </td>
                  ))}
                  {canEdit && (
                    <td className="row-acts">
                      <button type="button" className="icon" title="Remove this row" onClick={() => remove(id)}>
                        −
                      </button>
                    </td>
                  )}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {canEdit && (
        <button type="button" className="button" onClick={add}>
          {tableWords[table].add}
        </button>
      )}
    </>
  );
}

/** Metals the job brings itself. Nothing is read beyond the rows that give a property; a cell may stay empty. */
export function OwnMaterials(): React.ReactNode {
  const { session, canEdit } = useJob();
  const { doc } = session.specDocument;
  const materials = usePart(session.spec, (spec) => spec.materials);
  const add = (): void => {
    session.undo.stopCapturing();
    const id = freshId(doc, 'materials', Math.random);
    const name = freeName('Own material', materials);
    addElement(doc, 'materials', { id, order: (materials.at(-1)?.order ?? 0) + 1, values: { name } });
  };
  return (
    <>
      {materials.map((row) => (
        <details key={row.id} className="element">
          <summary>{row.name ?? row.id}</summary>
          <div className="fields">
            {Object.keys(collections.materials).map((key) => (
              <SpecField
                key={key}
                path={`materials.${row.id}.${key}`}
                {...(key === 'trust' && { choices: trustChoices })}
              />
            ))}
          </div>
          <MaterialTable row={row} table="points" />
          <MaterialTable row={row} table="ruptures" />
          {canEdit && (
            <p>
              <button
                type="button"
                className="button"
                onClick={() => {
                  session.undo.stopCapturing();
                  removeElement(doc, `materials.${row.id}`);
                }}
              >
                Remove {row.name ?? 'own material'}
              </button>
            </p>
          )}
        </details>
      ))}
      {canEdit && (
        <button type="button" className="button" onClick={add}>
          Add an own material
        </button>
      )}
    </>
  );
}
