import { addElement, addNode, freshId, removeElement } from '../../../shared/spec/commands.ts';
import { nodeFields } from '../../../shared/spec/fields.ts';
import type { Runner, RunnerNode } from '../../../shared/spec/spec.ts';
import { usePart } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { SpecField } from './specField.tsx';

const axes = ['x', 'y', 'z', 'radius'] as const;

function between(a: RunnerNode | undefined, b: RunnerNode | undefined, key: 'x' | 'y' | 'z'): number {
  return ((a?.[key] ?? 0) + (b?.[key] ?? 0)) / 2;
}

/** One runner's node table: port first, collector inlet last. */
function NodeTable({ runner }: { readonly runner: Runner }): React.ReactNode {
  const { session, canEdit } = useJob();
  const { doc } = session.specDocument;
  const insertAfter = (index: number): void => {
    const [a, b] = [runner.nodes[index], runner.nodes[index + 1]];
    if (!a || !b) return;
    session.undo.stopCapturing();
    addNode(doc, runner.id, {
      id: freshId(doc, `runners.${runner.id}.nodes`, Math.random),
      order: (a.order + b.order) / 2,
      values: { x: between(a, b, 'x'), y: between(a, b, 'y'), z: between(a, b, 'z'), radius: 0.06 },
    });
  };
  const remove = (node: RunnerNode): void => {
    session.undo.stopCapturing();
    removeElement(doc, `runners.${runner.id}.nodes.${node.id}`);
  };
  return (
    <table className="nodes">
      <thead>
        <tr>
          <th scope="col">Node</th>
          {axes.map((axis) => (
            <th key={axis} scope="col">
              {nodeFields[axis].label}
            </th>
          ))}
          {canEdit && <th scope="col" aria-label="Change rows" />}
        </tr>
      </thead>
      <tbody>
        {runner.nodes.map((node, i) => {
          const end = i === 0 || i === runner.nodes.length - 1;
          return (
            <tr key={node.id}>
              <th scope="row">{i === 0 ? 'Port' : i === runner.nodes.length - 1 ? 'Inlet' : i + 1}</th>
              {axes.map((axis) => (
                <td key={axis}>
                  {axis === 'radius' && end ? null : (
                    <SpecField
                      path={`runners.${runner.id}.nodes.${node.id}.${axis}`}
                      label={`${runner.name ?? runner.id} node ${i + 1} ${nodeFields[axis].label}`}
                      hideLabel
                    />
                  )}
                </td>
              ))}
              {canEdit && (
                <td className="row-acts">
                  {i < runner.nodes.length - 1 && (
                    <button
                      type="button"
                      className="icon"
                      title="Insert a node after this one"
                      onClick={() => insertAfter(i)}
                    >
                      +
                    </button>
                  )}
                  {!end && (
                    <button type="button" className="icon" title="Remove this node" onClick={() => remove(node)}>
                      −
                    </button>
                  )}
                </td>
              )}
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** All runners with their node tables. */
export function Runners(): React.ReactNode {
  const { session, canEdit } = useJob();
  const runners = usePart(session.spec, (spec) => spec.runners);
  const add = (): void => {
    const { doc } = session.specDocument;
    const last = runners.at(-1);
    const id = freshId(doc, 'runners', Math.random);
    const x = (last?.nodes[0]?.x ?? -0.1) + 0.1;
    session.undo.stopCapturing();
    doc.transact(() => {
      addElement(doc, 'runners', {
        id,
        order: (last?.order ?? 0) + 1,
        values: { name: `Runner ${runners.length + 1}` },
      });
      addNode(doc, id, { id: 'a', order: 1, values: { x, y: 0, z: 0 } });
      addNode(doc, id, { id: 'b', order: 2, values: { x, y: 0.2, z: 0 } });
    });
  };
  return (
    <>
      {runners.map((runner) => (
        <details
          key={runner.id}
          className="element"
          onToggle={(e) => e.currentTarget.open && session.focus.set({ kind: 'runner', id: runner.id })}
        >
          <summary>
            {runner.name ?? runner.id} <span className="quiet">cylinder {runner.cylinder ?? '?'}</span>
          </summary>
          <div className="pair">
            <SpecField path={`runners.${runner.id}.name`} />
            <SpecField path={`runners.${runner.id}.cylinder`} />
          </div>
          <NodeTable runner={runner} />
          {canEdit && (
            <button
              type="button"
              className="button"
              onClick={() => removeElement(session.specDocument.doc, `runners.${runner.id}`)}
            >
              Remove {runner.name ?? 'runner'}
            </button>
          )}
        </details>
      ))}
      {canEdit && (
        <button type="button" className="button" onClick={add}>
          Add a runner
        </button>
      )}
    </>
  );
}
